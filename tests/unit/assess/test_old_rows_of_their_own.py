"""Rows of the round before are looked at as their own ground and revision demanded them."""

from dataclasses import replace
from decimal import Decimal

from fieldapp.assess import assess
from fieldapp.assess.seen import seen_in
from fieldapp.work.demanded import demanded_in_old_row
from fieldapp.work.round import RoundWork
from schemas.bodies.second_domain import SecondDomain
from schemas.bundle import Bundle
from schemas.findings import Verdict
from schemas.standard import Standard, SupportClass
from tests.unit.assess.conforming import JOINT, STANDARD, conforming, counted, finding, with_round

D1 = STANDARD.classes[0]
BETWEEN = JOINT - Decimal("0.45")
"""Between the two old rows, which stand at the joint and 0.9 m outbye."""


def closer(code: str = "D1") -> SupportClass:
    """D1 with eleven bolts in a row for nine, and another type of bolt."""
    pattern = D1.pattern.model_copy(update={"bolts_per_row": 11})
    bolts = tuple(it.model_copy(update={"code": "XB24"}) for it in D1.bolts)
    return D1.model_copy(update={"code": code, "pattern": pattern, "bolts": bolts})


def of(*classes: SupportClass) -> Standard:
    return STANDARD.model_copy(update={"classes": classes})


def after(before: Bundle, bundle: Bundle, **changes: object) -> Bundle:
    """A round that goes on where another ended."""
    ended = before.round.model_copy(
        update={"number": 411, "joint_m": JOINT - Decimal("2.7"), "heading": "heading"}
    )
    return bundle.model_copy(update={"previous_round": ended, **changes})


def split() -> Bundle:
    """Nine bolts were put in outbye of 1385.95 m, eleven inbye of it."""
    second = SecondDomain(from_m=BETWEEN, support_class="T9", told_by="the plan")
    before = with_round(conforming(), second_domain=second)
    return after(before, conforming(), standard=of(D1, closer("T9")))


def confirmed(bundle: Bundle, *plates: int) -> Bundle:
    rows = (
        row.model_copy(update={"confirmed": counted(number)})
        for row, number in zip(bundle.round.old_rows, plates, strict=True)
    )
    return with_round(bundle, old_rows=tuple(rows))


def test_each_old_row_has_the_bolts_of_the_ground_that_it_stands_in() -> None:
    nine, eleven = seen_in(split()).old_rows

    assert (len(nine.demanded.s_m), len(eleven.demanded.s_m)) == (9, 11)
    assert (set(nine.rules.types), set(eleven.rules.types)) == ({"RB24"}, {"XB24"})


def test_nine_plates_are_two_too_few_only_where_eleven_were_demanded() -> None:
    assert finding(confirmed(split(), 9, 11), "old_rows").verdict is Verdict.ACCEPT
    short = finding(confirmed(split(), 9, 9), "old_rows")

    assert short.verdict is Verdict.REWORK
    assert short.places[0].words.startswith("the last old row: 2 bolts fewer than demanded")


def test_old_rows_keep_the_revision_that_they_were_put_in_by() -> None:
    now = after(conforming(), conforming(), standard=of(closer()))
    then = now.model_copy(update={"previous_standard": of(D1)})

    assert [len(row.demanded.s_m) for row in seen_in(now).old_rows] == [11, 11]
    assert [len(row.demanded.s_m) for row in seen_in(then).old_rows] == [9, 9]


def test_old_rows_of_a_class_that_nobody_knows_any_more_are_taken_as_the_round_s_own() -> None:
    before = with_round(conforming(), support_class="gone")

    assert [len(row.demanded.s_m) for row in seen_in(after(before, conforming())).old_rows] == [
        9,
        9,
    ]


def test_the_tablet_asks_for_so_many_plates_as_an_assessment_looks_for() -> None:
    bundle = split()
    work = RoundWork(
        round_id="round",
        draft_id="round",
        heading=bundle.heading,
        standard=bundle.standard,
        began=bundle.round,
        previous=bundle.previous_round,
    )
    newer = replace(work, standard=of(closer(), closer("T9")), previous_standard=bundle.standard)

    assert [demanded_in_old_row(work, index) for index in (0, 1)] == [9, 11]
    assert [demanded_in_old_row(newer, index) for index in (0, 1)] == [9, 11]


def test_an_assessment_of_both_standards_is_the_same_each_time() -> None:
    bundle = split()

    assert assess(bundle) == assess(Bundle.model_validate_json(bundle.model_dump_json()))
