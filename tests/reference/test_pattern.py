"""Counts, densities and the spacing rules of regulators."""

from decimal import Decimal
from typing import Any

import pytest

from fieldapp.assess.density import (
    density_per_m2,
    pattern_density_per_m2,
)
from fieldapp.assess.uncertainty import Answer, decide
from tests.reference.record import reference


def within(measured: str, limit: str, sense: Any) -> bool:
    decision = decide(
        Decimal(measured), Decimal(limit), sense, Decimal(0), Decimal(0), again=False
    )
    return decision.answer is Answer.WITHIN


@reference("Effective spacing P/(n − 1)", "closed form")
@pytest.mark.parametrize(
    ("line", "bolts", "spacing"),
    [(9.916, 10, 1.102), (10.726, 8, 1.532), (10.726, 10, 1.192), (9.916, 8, 1.417)],
)
def test_the_spacing_that_a_count_leaves(line: float, bolts: int, spacing: float) -> None:
    assert line / (bolts - 1) == pytest.approx(spacing, abs=5e-4)


@reference("One bolt a cell: 1/(s·b)", "closed form")
@pytest.mark.parametrize(("side", "density"), [(1.2, 0.694), (1.5, 0.444), (1.0, 1.0)])
def test_density_of_a_square_pattern(side: float, density: float) -> None:
    assert pattern_density_per_m2(side, side) == pytest.approx(density, abs=5e-4)


@reference("UK SI 1999/2463, schedule, paragraph 10: at least 1 bolt per m²", "published")
@pytest.mark.parametrize(("side", "meets"), [(1.0, True), (1.2, False)])
def test_the_british_density(side: float, meets: bool) -> None:  # noqa: FBT001
    density = f"{pattern_density_per_m2(side, side):.3f}"

    assert within(density, "1.000", "at least") is meets


@reference("UK SI 1999/2463, schedule, paragraph 10: length at least 1.8 m", "published")
def test_the_british_length() -> None:
    assert within("1.8", "1.8", "at least")
    assert not within("1.79", "1.8", "at least")


@reference("UK SI 1999/2463, schedule, paragraph 10: last row to face ≤ 3.5 m", "published")
@pytest.mark.parametrize(("read", "meets"), [("3.5", True), ("3.50", True), ("3.51", False)])
def test_the_british_last_row(read: str, meets: bool) -> None:  # noqa: FBT001
    assert within(read, "3.5", "at most") is meets


@reference("30 CFR 75.222(b)(1): centres not exceeding 5 feet (1.524 m)", "published")
@pytest.mark.parametrize(("read", "meets"), [("1.53", False), ("1.524", True)])
def test_the_american_coal_spacing(read: str, meets: bool) -> None:  # noqa: FBT001
    assert within(read, f"{Decimal(5) * Decimal('0.3048')}", "at most") is meets


@reference("Face chainage less chainage of the last row", "common practice, no source")
@pytest.mark.parametrize(("face", "meets"), [("103.4", True), ("104.1", False)])
def test_a_last_row_at_102_6(face: str, meets: bool) -> None:  # noqa: FBT001
    assert within(str(Decimal(face) - Decimal("102.6")), "1.0", "at most") is meets


@reference("Bolts over area", "closed form")
def test_density_on_an_area() -> None:
    assert density_per_m2(45, 9.8 * 6.0) == pytest.approx(0.7653, abs=1e-4)
