"""A set of cores that is not whole is not judged."""

from decimal import Decimal

from fieldapp.assess.shotcrete_cores import CoresJudged, TooFewCores, cores_judged
from schemas.bolt_test_rules import CoreRule

RULE = CoreRule(
    cores=3,
    strength_mpa=Decimal(30),
    mean_share_at_least=Decimal("0.85"),
    each_share_at_least=Decimal("0.75"),
    age_days=28,
    because="common practice",
)


def test_two_cores_are_no_set() -> None:
    judged = cores_judged([Decimal(40), Decimal(41)], RULE)

    assert isinstance(judged, TooFewCores)
    assert (judged.cores, judged.demanded) == (2, 3)


def test_the_weak_core_is_named() -> None:
    judged = cores_judged([Decimal(40), Decimal(22), Decimal(41)], RULE)

    assert isinstance(judged, CoresJudged)
    assert judged.mean_enough
    assert judged.weak == (1,)


def test_exactly_at_both_limits_passes() -> None:
    judged = cores_judged([Decimal("22.5"), Decimal("27"), Decimal("27")], RULE)

    assert isinstance(judged, CoresJudged)
    assert judged.passed
