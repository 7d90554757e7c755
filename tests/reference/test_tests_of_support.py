"""Pulls of bolts."""

from decimal import Decimal

import pytest
from scipy.stats import linregress

from fieldapp.assess.pull_curve import stiffness_kn_per_mm
from schemas.bodies.bolt_test import PullReading
from tests.reference.record import reference


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
