"""Pull tests by the standard's rule: a proof test holds a load, a destructive one reaches it.

A proof test leaves the bolt where it is; a destructive one takes it away, so that it is made on
bolts put in for it. The two are never put together.
"""

from collections.abc import Iterator, Sequence
from datetime import timedelta
from decimal import Decimal
from typing import Final

from fieldapp.assess.bolt_tests.result import Result
from fieldapp.assess.pull_curve import contradictions, peak, proof_judged
from schemas.bodies.bolt_test import BoltTest, PullReading
from schemas.bolt_test_rules import BoltTestRule
from schemas.numbers import STEP_KN, rounded, text
from schemas.standard import BoltType

STRONGER_THAN_NOMINAL: Final = Decimal("1.5")
"""Steel may carry more than its nominal strength when it gives, but never half as much again.
Common practice, no source."""
TOUCHED_WITHIN: Final = timedelta(seconds=30)
"""So much later than it was read a load may have been touched. Common practice, no source."""
STEP_SLIP_MM: Final = Decimal("0.1")
GONE_TOO_SOON: Final = "load was gone before the hold was over"
GAVE: Final = {
    "bar": "the bar broke",
    "thread": "the thread stripped",
    "anchor slipped": "the anchor slipped",
    "plate": "the plate gave",
}


def thread_kn(bolt: BoltType) -> Decimal:
    """Give the load that the thread of a bolt carries by its nominal strength.

    Parameters
    ----------
    bolt : BoltType
        Stress area of the thread, and the steel. [mm², MPa]

    Returns
    -------
    Decimal
        Area times strength. [kN]

    Source
    ------
    Definition; 1 MPa is 1 N/mm².
    """
    return rounded(bolt.thread_area_mm2 * bolt.steel_mpa / 1000, STEP_KN)


def beyond_the_thread(test: BoltTest, bolt: BoltType) -> str | None:
    """Say that a load was read which the thread can't carry.

    Parameters
    ----------
    test : BoltTest
        A pull. [kN]
    bolt : BoltType
        Which bolt. [mm², MPa]

    Returns
    -------
    str or None
        None where the thread carries what was read: its nominal strength in a proof test, half
        as much again where it is pulled until it gives. [-]

    Source
    ------
    Common practice, no source.
    """
    carries = thread_kn(bolt)
    most = carries if test.kind == "proof pull" else carries * STRONGER_THAN_NOMINAL
    top = peak(test.pulled)
    if top is None or top.load_kn <= most:
        return None
    read = f"{text(top.load_kn)} kN"
    return f"{read} is more than the thread of {bolt.code} carries, {text(carries)} kN"


def pull_result(test: BoltTest, rule: BoltTestRule, bolt: BoltType | None) -> Result:
    """Judge a pull test by the standard's rule for its bolt type and kind.

    Parameters
    ----------
    test : BoltTest
        As it was read. [kN, mm, s]
    rule : BoltTestRule
        Of its bolt type, proof or destructive. [kN, min, mm]
    bolt : BoltType or None
        What the thread carries; None where the standard doesn't say. [mm², MPa]

    Returns
    -------
    Result
        What broke below the load, slipped too far, or gave in a proof test, failed. What was not
        pulled or held so far, by a rig that nobody calibrated lately, or to more than steel
        carries, can't be judged. [-]

    Source
    ------
    Common practice, no source: load, hold and slip are the mine's.
    """
    top, limit = peak(test.pulled), _limit(rule)
    if top is None:
        return Result("can't be judged", "no load was read", limit, rule.because)
    failure = next(_failures(test, rule, top.load_kn), None)
    if failure is not None:
        then = rule.after_failure
        return Result("failed", failure, limit, rule.because, then=then, value=top.load_kn)
    doubt = next(_doubts(test, rule, bolt, top.load_kn), None)
    if doubt is not None:
        return Result("can't be judged", doubt, limit, rule.because)
    read = _passed(test, rule, top.load_kn)
    return Result("passed", read, limit, rule.because, value=top.load_kn)


def _limit(rule: BoltTestRule) -> str:
    slip = f"slip at most {text(rule.slip_at_most_mm)} mm"
    if rule.hold_min:
        return f"{text(rule.proof_kn)} kN held for {rule.hold_min} min, {slip}"
    return f"at least {text(rule.proof_kn)} kN, {slip}"


def _failures(test: BoltTest, rule: BoltTestRule, peak_kn: Decimal) -> Iterator[str]:
    gave = GAVE.get(test.broke or "")
    if gave is not None and (rule.kind == "proof" or peak_kn < rule.proof_kn):
        yield f"{gave} at {text(peak_kn)} kN"
    slip = _slip_mm(test.pulled, rule)
    if slip > rule.slip_at_most_mm:
        reached = rule.kind == "destructive" and peak_kn >= rule.proof_kn
        at_kn = rule.proof_kn if reached else peak_kn
        yield f"the head came {text(rounded(slip, STEP_SLIP_MM))} mm by {text(at_kn)} kN"


def _doubts(
    test: BoltTest, rule: BoltTestRule, bolt: BoltType | None, peak_kn: Decimal
) -> Iterator[str]:
    if peak_kn < rule.proof_kn:
        yield f"pulled to {text(peak_kn)} kN only, and it held that"
    too_much = beyond_the_thread(test, bolt) if bolt is not None else None
    if too_much is not None:
        yield f"{too_much}: look at the gauge"
    if test.pulled[0].load_kn >= rule.proof_kn:
        yield f"nothing was read below {text(rule.proof_kn)} kN, so nobody knows the slip"
    if rule.hold_min:
        yield from _hold_doubts(test, rule)
    yield from _rig_doubts(test, rule)


def _rig_doubts(test: BoltTest, rule: BoltTestRule) -> Iterator[str]:
    at, within = test.rig_checked_at, rule.calibrated_within_days
    if at is None:
        yield "the rig was never calibrated, as far as anybody said"
    elif within is not None and test.tested_at - at > timedelta(days=within):
        yield f"the rig was last calibrated on {at.date()}, more than {within} days before"


def too_soon_for_its_hold(test: BoltTest, rule: BoltTestRule) -> str | None:
    """Say of a hold that it was stated before it can have passed, by the tablet's clock.

    Parameters
    ----------
    test : BoltTest
        A pull; when its readings and its hold were touched. [kN, min, UTC]
    rule : BoltTestRule
        The load to hold. [kN]

    Returns
    -------
    str or None
        None where there was time enough since the load was first touched, or nobody knows: what
        was written on paper first is touched later, all at once. [-]

    Source
    ------
    Common practice, no source.
    """
    at_load = (it.read_at for it in test.pulled if it.load_kn >= rule.proof_kn)
    since = next(at_load, None)
    if since is None or test.hold_told_at is None or not test.held_min:
        return None
    passed = test.hold_told_at - since
    if passed + TOUCHED_WITHIN >= timedelta(minutes=test.held_min):
        return None
    seconds = max(0, int(passed.total_seconds()))
    return f"{test.held_min} min held were touched {seconds} s after the load was"


def _hold_doubts(test: BoltTest, rule: BoltTestRule) -> Iterator[str]:
    if GONE_TOO_SOON in contradictions(test.pulled, rule.proof_kn, test.held_min):
        yield f"{test.held_min} min were stated, the readings fell below the load before that"
    judged = proof_judged(
        test.pulled, rule.proof_kn, rule.hold_min, rule.slip_at_most_mm, test.held_min
    )
    if judged is None or judged.hold is None or judged.hold.held_s is None:
        yield "nobody said how long it was held"
    elif "held too short" in judged.faults:
        none = not judged.hold.held_s  # a timer tells whole minutes
        yield "held for less than 1 min" if none else f"held for {text(judged.hold.held_s)} s only"


def _slip_mm(pulled: Sequence[PullReading], rule: BoltTestRule) -> Decimal:
    """Give how far the head came: pulled to the end, until the load was reached; else at all.

    A head that came too far before the load was reached would not have gone back at it.
    """
    before: PullReading | None = None
    for it in pulled if rule.kind == "destructive" else ():
        if it.load_kn >= rule.proof_kn:
            return _at_load(before, it, rule.proof_kn)
        before = it
    return max(it.displacement_mm for it in pulled)


def _at_load(before: PullReading | None, after: PullReading, load_kn: Decimal) -> Decimal:
    """Give the displacement at a load between two readings, on a straight line."""
    if before is None or after.load_kn == before.load_kn:
        return after.displacement_mm
    share = (load_kn - before.load_kn) / (after.load_kn - before.load_kn)
    return before.displacement_mm + share * (after.displacement_mm - before.displacement_mm)


def _passed(test: BoltTest, rule: BoltTestRule, peak_kn: Decimal) -> str:
    slip = rounded(_slip_mm(test.pulled, rule), STEP_SLIP_MM)
    came = f", the head came {text(slip)} mm"
    if rule.kind == "destructive":
        gave = GAVE.get(test.broke or "")
        by = f"{came} by {text(rule.proof_kn)} kN"
        return f"{text(peak_kn)} kN reached{by}{f', then {gave}' if gave else ''}"
    minutes = f" for {test.held_min} min" if test.held_min else ""
    return f"{text(peak_kn)} kN held{minutes}{came}"
