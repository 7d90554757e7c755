"""Uncertainty and decisions against the examples of JCGM 100 and JCGM 106."""

import math

import pytest

from fieldapp.assess.uncertainty import (
    combined_uncertainty,
    rectangular_uncertainty,
    shared_uncertainty,
    triangular_uncertainty,
)
from tests.reference.record import reference


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
