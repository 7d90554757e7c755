"""Pulls to the end that are summed up: mean, spread, the share that passed, the weakest."""

from decimal import Decimal

import pytest
from scipy.stats import binomtest

from fieldapp.assess.bolt_tests import Together, summary
from tests.reference.record import reference
from tests.unit.assess.bolt_tests.pulls import changed_to, judged_by, pulled_to_the_end

A12_KN = (98, 105, 88, 110, 76, 101, 95, 92)
INVENTED_KN = ("112.0", "118.5", "121.0", "109.5", "115.0", "124.0", "117.5", "111.0")


def together(*loads_kn: object, demanded_kn: str = "80") -> Together:
    standard = changed_to(destructive_kn=demanded_kn)
    tests = [judged_by(standard, pulled_to_the_end(str(it))) for it in loads_kn]
    (one,) = summary([(it, ()) for it in tests])
    return one


@reference("Definition of mean, standard deviation (n − 1) and their ratio", "closed form")
def test_the_spread_of_eight_pulls() -> None:
    spread = together(*A12_KN).spread

    assert spread is not None
    assert (spread.mean, spread.sd, spread.least) == (
        Decimal("95.6"),
        Decimal("10.6"),
        Decimal("76.0"),
    )
    assert spread.cv_percent == Decimal("11.1")


@reference("SciPy, scipy.stats.binomtest, exact", "published")
def test_the_share_that_passed_and_its_exact_interval() -> None:
    """Seven of eight reached 80 kN."""
    one = together(*A12_KN)
    expected = binomtest(7, 8).proportion_ci(0.95, method="exact")

    assert (one.passed, one.tests, one.passed_share) == (7, 8, Decimal("0.8750"))
    assert one.share is not None
    assert float(one.share.low) == pytest.approx(expected.low, abs=5e-5)
    assert float(one.share.high) == pytest.approx(expected.high, abs=5e-5)


@reference("EN 1990:2002, annex D, D7.2: k_n = 2.0095 of eight, not 1.645", "from memory")
def test_the_characteristic_value_makes_up_for_how_few_there_were() -> None:
    """95.625 − 2.0095 · 10.59 = 74.3: below the 80 demanded, which 78.2 would hide less."""
    one = together(*A12_KN).characteristic

    assert one is not None
    assert one.value_kn == Decimal("74.3")
    assert one.factor == Decimal("2.010")


@reference("EN 1990:2002, annex D, D7.1(5): variation no smaller than 0.10", "from memory")
def test_pulls_that_scatter_little_are_taken_to_scatter_more() -> None:
    """Mean 116.0625, spread 5.095: with variation 0.10 it is 116.0625 · (1 − 2.0095 · 0.10)."""
    one = together(*INVENTED_KN).characteristic

    assert one is not None
    assert one.value_kn == Decimal("92.7")
