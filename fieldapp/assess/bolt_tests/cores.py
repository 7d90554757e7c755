"""Cores of shotcrete by the standard's rule: the mean of the set, and each of them."""

from decimal import Decimal
from typing import Final

from fieldapp.assess.bolt_tests.result import Result
from fieldapp.assess.shotcrete_cores import TooFewCores, cores_judged
from schemas.bodies.bolt_test import BoltTest
from schemas.bolt_test_rules import CoreRule
from schemas.numbers import STEP_MPA, rounded, text

_STEP_PERCENT: Final = Decimal("0.1")


def cores_result(test: BoltTest, rule: CoreRule) -> Result:
    """Judge a set of cores.

    Parameters
    ----------
    test : BoltTest
        Strength of each core, and the age of the shotcrete. [MPa, days]
    rule : CoreRule
        Cores in a set, the strength, and which shares of it they reach. [MPa, -]

    Returns
    -------
    Result
        Fewer cores than a set, or younger than the age at which they are judged, never fail for
        want of cores or of age: they can't be judged. Those that are strong enough before that
        age pass, since shotcrete gains strength. [MPa]

    Source
    ------
    ACI 506.2: mean at least 85 %, each at least 75 % of the strength; the numbers are the mine's.
    """
    limit, clause = _limit(rule), rule.because
    if not test.cores_mpa:
        return Result("can't be judged", "no core was pressed", limit, clause)
    judged = cores_judged(test.cores_mpa, rule)
    if isinstance(judged, TooFewCores):
        few = f"{judged.cores} of {judged.demanded} cores"
        return Result("can't be judged", few, limit, clause)
    mean, least = (_percent(it) for it in (judged.mean_share, judged.least_share))
    read = f"the mean reaches {mean} %, the weakest core {least} %"
    value = rounded(sum(test.cores_mpa) / Decimal(len(test.cores_mpa)), STEP_MPA)
    if judged.passed:
        return Result("passed", read, limit, clause, value=value)
    if test.age_days is None or test.age_days < rule.age_days:
        age = "of an age nobody said" if test.age_days is None else f"{test.age_days} days old"
        return Result("can't be judged", f"{read}, {age}", limit, clause)
    return Result("failed", read, limit, clause, then=rule.after_failure, value=value)


def _percent(share: Decimal) -> str:
    return text(rounded(100 * share, _STEP_PERCENT))


def _limit(rule: CoreRule) -> str:
    mean, each = (
        text(rounded(100 * share, Decimal(1)))
        for share in (rule.mean_share_at_least, rule.each_share_at_least)
    )
    strength = f"{text(rule.strength_mpa)} MPa"
    return f"mean at least {mean} % of {strength}, each {each} %, {rule.age_days} days old"
