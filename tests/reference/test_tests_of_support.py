"""Panels of shotcrete and pulls of bolts."""

from decimal import Decimal

import pytest
from scipy.stats import linregress

from fieldapp.assess.pull_curve import stiffness_kn_per_mm
from fieldapp.assess.shotcrete_cores import panels_due
from schemas.bodies.bolt_test import PullReading
from tests.reference.record import reference


@reference("ACI 506.2: one panel for each 50 yd³ (38 m³) or day", "published")
@pytest.mark.parametrize(
    ("sprayed", "panels"), [([100], 3), ([38], 1), ([5, 6, 7], 3), ([0, 39], 2), ([], 0)]
)
def test_panels(sprayed: list[int], panels: int) -> None:
    assert panels_due([Decimal(it) for it in sprayed]) == panels


@reference("SciPy, scipy.stats.linregress", "published")
def test_stiffness_is_the_slope_of_least_squares() -> None:
    loads = [0, 5, 21, 32, 39, 52, 60, 75, 90, 100, 70]
    moved = [0.0, 2.0, 3.1, 3.6, 4.2, 4.8, 5.3, 6.9, 9.0, 14.0, 30.0]
    pulled = [
        PullReading(load_kn=Decimal(kn), displacement_mm=Decimal(str(mm)))
        for kn, mm in zip(loads, moved, strict=True)
    ]
    slope = linregress(moved[2:7], loads[2:7]).slope

    assert stiffness_kn_per_mm(pulled) == pytest.approx(Decimal(slope), abs=Decimal("0.05"))
