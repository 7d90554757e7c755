from decimal import Decimal

import pytest

from fieldapp.assess.judge import Breach, Check, Reading, answered, measured
from schemas.findings import Breach as MayMean
from schemas.findings import Finding, Place, Verdict
from schemas.limits import AtMostMetres, Demanded
from schemas.numbers import STEP_M

CHECK = Check("lowest_bolt", "how", "tape")
HERE, THERE = Place(words="here"), Place(words="there")


def limit(breach: MayMean = Verdict.REWORK, grave: str | None = "1.5") -> AtMostMetres:
    return AtMostMetres(
        because="S-2, 5.7",
        breach=breach,
        guard_factor=Decimal(2),
        at_most_m=Decimal(1),
        no_entry_above_m=None if grave is None else Decimal(grave),
    )


def judged(
    *values: str,
    again: bool = False,
    unseen: tuple[Place, ...] = (),
    bound: AtMostMetres | None = None,
) -> Finding:
    readings = [
        Reading(Decimal(value), Decimal("0.02"), lambda: HERE, again, lambda: "mend it")
        for value in values
    ]
    return measured(CHECK, bound or limit(), readings, unseen, STEP_M)[0]


def verdicts(findings: tuple[Finding, ...]) -> list[tuple[Verdict, tuple[Place, ...]]]:
    return [(found.verdict, found.places) for found in findings]


@pytest.mark.parametrize(
    ("value", "verdict", "holds"),
    [
        ("0.96", Verdict.ACCEPT, Verdict.ACCEPT),
        ("0.97", Verdict.MEASURE_AGAIN, Verdict.REWORK),
        ("1.04", Verdict.MEASURE_AGAIN, Verdict.REWORK),
        ("1.05", Verdict.REWORK, Verdict.REWORK),
        ("1.47", Verdict.REWORK, Verdict.NO_ENTRY),
        ("1.55", Verdict.NO_ENTRY, Verdict.NO_ENTRY),
    ],
)
def test_two_steps_and_a_guard_band(value: str, verdict: Verdict, holds: Verdict) -> None:
    found = judged(value)

    assert (found.verdict, found.holds) == (verdict, holds)


def test_the_second_straddle_is_a_breach_and_past_the_grave_limit_no_entry() -> None:
    assert judged("1.00", again=True).verdict is Verdict.REWORK
    assert judged("1.49", again=True).verdict is Verdict.NO_ENTRY


def test_nothing_read_is_not_looked_at_and_holds_at_the_gravest() -> None:
    found = judged(unseen=(THERE,))

    assert (found.verdict, found.holds) == (Verdict.NOT_LOOKED_AT, Verdict.NO_ENTRY)
    assert found.measured is None
    assert found.how == "how; not looked at: there"


def test_what_is_known_to_be_wrong_never_hides_what_nobody_read() -> None:
    wrong = Reading(Decimal("1.2"), Decimal("0.02"), lambda: HERE)
    found = measured(CHECK, limit(), [wrong], [THERE], STEP_M)

    assert verdicts(found) == [(Verdict.REWORK, (HERE,)), (Verdict.NOT_LOOKED_AT, (THERE,))]
    assert [it.holds for it in found] == [Verdict.REWORK, Verdict.NO_ENTRY]


def test_what_is_known_to_be_wrong_never_hides_what_is_to_be_measured_again() -> None:
    wrong = Reading(Decimal("1.2"), Decimal("0.02"), lambda: HERE)
    close = Reading(Decimal("1.01"), Decimal("0.02"), lambda: THERE)
    found = measured(CHECK, limit(), [close, wrong], [], STEP_M)

    assert verdicts(found) == [(Verdict.REWORK, (HERE,)), (Verdict.MEASURE_AGAIN, (THERE,))]
    assert [it.measured for it in found] == ["1.200", "1.010"]


def test_what_straddles_names_the_place_that_nobody_read_first() -> None:
    found = judged("1.00", unseen=(THERE,))

    assert (found.verdict, found.places) == (Verdict.NOT_LOOKED_AT, (THERE, HERE))


def test_the_worst_reading_governs_and_every_bad_one_is_a_place() -> None:
    found = judged("0.5", "1.2", "1.6", "1.3")

    assert (found.measured, found.limit) == ("1.600", "at most 1.5")
    assert len(found.places) == 3
    assert found.fix == ("mend it",)


def test_rounded_once_before_it_is_compared() -> None:
    """Float noise never reworks a perfect round."""
    exact = limit().model_copy(update={"guard_factor": Decimal(0)})

    assert judged("1.0004999", bound=exact).verdict is Verdict.ACCEPT
    assert judged("1.0006", bound=exact).verdict is Verdict.REWORK


def test_fix_this_shift_is_never_for_the_back() -> None:
    lenient = limit(Verdict.FIX_THIS_SHIFT, grave=None)
    back = Reading(Decimal(2), Decimal(0), lambda: HERE, zone="back")
    wall = Reading(Decimal(2), Decimal(0), lambda: HERE, zone="left wall")

    assert measured(CHECK, lenient, [back], [], STEP_M)[0].verdict is Verdict.REWORK
    assert measured(CHECK, lenient, [wall], [], STEP_M)[0].verdict is Verdict.FIX_THIS_SHIFT


def test_what_rests_on_ground_nobody_looked_at_is_not_shown() -> None:
    supposed = Reading(Decimal("0.5"), Decimal(0), lambda: HERE, supposed=True)
    (found,) = measured(CHECK, limit(), [supposed], [THERE], STEP_M)

    assert found.measured is None
    assert found.places == (THERE,)


def test_an_answer_without_breach_and_with_all_looked_at_is_accepted() -> None:
    demanded = Demanded(because="S-2, 4.6", breach=Verdict.NO_ENTRY)

    assert verdicts(answered(CHECK, demanded, [], [])) == [(Verdict.ACCEPT, ())]
    assert answered(CHECK, demanded, [], [THERE])[0].holds is Verdict.NO_ENTRY


def test_an_answer_that_is_wrong_never_hides_what_nobody_looked_at() -> None:
    demanded = Demanded(because="S-2, 4.6", breach=Verdict.REWORK)
    found = answered(CHECK, demanded, [Breach(HERE, "mend it")], [THERE], counted=9)

    assert verdicts(found) == [(Verdict.REWORK, (HERE,)), (Verdict.NOT_LOOKED_AT, (THERE,))]
    assert found[0].fix == ("mend it",)
    assert [it.measured for it in found] == [None, None], "of nine, one is not known"
