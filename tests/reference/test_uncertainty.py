"""Uncertainty and decisions against the examples of JCGM 100 and JCGM 106."""

import math
from decimal import Decimal
from typing import Any

import pytest

from fieldapp.assess.uncertainty import (
    Answer,
    combined_uncertainty,
    conformance_probability,
    decide,
    rectangular_uncertainty,
    shared_uncertainty,
    triangular_uncertainty,
)
from tests.reference.record import reference


@reference(
    "JCGM 100:2008, H.1.4: end gauge, u = 25, 9.7, 2.9 and 16.6 nm give 32 nm", "from memory"
)
def test_the_end_gauge() -> None:
    parts = [(1.0, 25.0), (1.0, 9.7), (1.0, 2.9), (1.0, 16.6)]

    assert combined_uncertainty(parts) == pytest.approx(32, abs=0.5)


@reference("JCGM 100:2008, 4.3.7, example 2: bounds ± 0.40 give 0.23 (10⁻⁶/°C)", "from memory")
def test_a_rectangular_distribution() -> None:
    assert rectangular_uncertainty(0.40) == pytest.approx(0.23, abs=0.005)


@reference("JCGM 100:2008, F.2.2.1: resolution δx gives u = 0.29 δx", "from memory")
def test_the_resolution_of_a_display() -> None:
    assert rectangular_uncertainty(0.5) == pytest.approx(0.29, abs=0.005)


@reference("JCGM 100:2008, 4.3.9, equation (9b): a/√6", "from memory")
def test_a_triangular_distribution() -> None:
    assert triangular_uncertainty(1.0) == pytest.approx(1 / math.sqrt(6))


@reference("JCGM 100:2008, 5.2.2, example: ten 1000 Ω resistors, u 100 mΩ each", "from memory")
def test_ten_resistors_in_series() -> None:
    ten = [(1.0, 0.100)] * 10

    assert shared_uncertainty(ten) == pytest.approx(1.0)
    assert combined_uncertainty(ten) == pytest.approx(0.32, abs=0.005)


@reference("JCGM 106:2012, 7.3: breakdown voltage −5.47 V, u 0.05 V, limit −5.40 V", "from memory")
def test_the_zener_diode() -> None:
    probability = conformance_probability(-5.47, -5.40, "at most", 0.05)

    assert probability == pytest.approx(0.92, abs=0.005)


@reference("JCGM 106:2012, 7.3: burst strength 509.7 kPa, u 8.6 kPa, limit 490 kPa", "from memory")
def test_the_container() -> None:
    probability = conformance_probability(509.7, 490, "at least", 8.6)

    assert probability == pytest.approx(0.99, abs=0.005)


@reference("JCGM 106:2012, 7.3, table 1: conformance probability and z", "from memory")
@pytest.mark.parametrize(
    ("probability", "z"), [(0.80, 0.84), (0.90, 1.28), (0.95, 1.64), (0.99, 2.33), (0.999, 3.09)]
)
def test_table_1(probability: float, z: float) -> None:
    assert conformance_probability(-z, 0.0, "at most", 1.0) == pytest.approx(probability, abs=2e-3)


@reference(
    "JCGM 106:2012, 8.3.2.2: guard band w = U = 2u leaves at most 2.3 % risk", "from memory"
)
def test_a_guard_band_of_the_expanded_uncertainty() -> None:
    decision = decide(
        Decimal("0.98"), Decimal("1.00"), "at most", Decimal("0.01"), Decimal(2), again=False
    )

    assert decision.answer is Answer.WITHIN
    assert 1 - decision.conformance == pytest.approx(0.023, abs=0.0005)


@reference("JCGM 106:2012, 8.3.2 and 8.3.3: guarded acceptance and rejection", "from memory")
@pytest.mark.parametrize(
    ("measured", "sense", "answer"),
    [("0.97", "at most", Answer.WITHIN), ("0.981", "at most", Answer.STRADDLES),
     ("1.02", "at most", Answer.STRADDLES), ("1.021", "at most", Answer.BEYOND),
     ("1.02", "at least", Answer.WITHIN), ("1.00", "at least", Answer.STRADDLES),
     ("0.979", "at least", Answer.BEYOND)],
)  # fmt: skip
def test_a_guard_band_on_both_sides(measured: str, sense: Any, answer: Answer) -> None:
    u, k = Decimal("0.01"), Decimal(2)

    assert decide(Decimal(measured), Decimal(1), sense, u, k, again=False).answer is answer
