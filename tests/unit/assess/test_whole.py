from decimal import Decimal

import pytest

from fieldapp.assess import assess
from fieldapp.assess.checks import CHECKS
from fieldapp.assess.whole import headline
from schemas.bodies.round import ProfileSeen
from schemas.findings import Verdict
from tests.unit.assess.conforming import (
    conforming,
    counted,
    loose,
    missing,
    with_bolts,
    with_round,
    with_row,
)


@pytest.mark.parametrize("code", ["D1", "O2", "W3"])
def test_a_conforming_round_of_every_class_may_be_accepted(code: str) -> None:
    assessment = assess(conforming(code))

    assert assessment.headline == "accept"
    assert assessment.may_be_accepted
    assert assessment.fix_list == ()
    assert assessment.rows_complete_to_m is not None


@pytest.mark.parametrize(
    ("verdicts", "said"),
    [
        ([], "accept"),
        ([Verdict.ACCEPT, Verdict.FIX_THIS_SHIFT], "fix this shift"),
        (
            [Verdict.REWORK, Verdict.NOT_LOOKED_AT, Verdict.NOT_LOOKED_AT],
            "rework, 2 not looked at",
        ),
        ([Verdict.NOT_LOOKED_AT, Verdict.MEASURE_AGAIN], "1 not looked at, 1 measure again"),
        ([Verdict.NO_ENTRY, Verdict.REWORK], "no entry, 1 rework"),
    ],
)
def test_the_headline_adds_what_the_worst_hides(verdicts: list[Verdict], said: str) -> None:
    assert headline(verdicts) == said


def test_within_a_verdict_findings_stand_in_the_order_of_the_checks() -> None:
    order = [check.__name__ for check in CHECKS]
    places = [order.index(finding.check) for finding in assess(conforming()).findings]

    assert places == sorted(places)


def test_the_fix_list_names_each_job_once_the_worst_first() -> None:
    """The missing bolt is at once the job of the gap; the plate comes after it."""
    bundle = with_bolts(with_bolts(conforming(), 2, missing(4)), 3, loose(8))

    assert assess(bundle).fix_list == (
        "add a bolt, row 2, 1.2 m left of the crown",
        "seat the plate, row 3, 3.7 m right of the crown",
    )


def test_rows_are_complete_up_to_the_first_that_is_not() -> None:
    spoiled = with_bolts(conforming(), 2, missing(4))
    blank = with_row(conforming(), 3, counted=None)

    assert str(assess(spoiled).rows_complete_to_m) == "1387.30"
    assert str(assess(blank).rows_complete_to_m) == "1388.20"


def test_a_row_before_a_face_that_nobody_read_is_not_complete() -> None:
    """The ground between them may be the widest gap: with three rows it ends at the second."""
    unread = with_round(conforming("W3"), face_readings=())

    assert str(assess(conforming("W3")).rows_complete_to_m) == "1390.00"
    assert str(assess(unread).rows_complete_to_m) == "1388.80"


def test_nothing_is_complete_while_an_old_row_is_not_confirmed() -> None:
    bundle = conforming()
    old = bundle.round.old_rows
    unconfirmed = old[1].model_copy(update={"confirmed": None})

    assert assess(with_round(bundle, old_rows=(old[0], unconfirmed))).rows_complete_to_m is None


def test_a_drive_as_wide_as_can_be_written_is_judged() -> None:
    """4,800 positions: slow is allowed, failing is not."""
    bundle = conforming("D1", 60)
    wide = ProfileSeen(width_m=Decimal(100), rise_m=Decimal(0), method="laser")
    assessment = assess(with_round(bundle, profile=wide))

    assert assessment.verdict is Verdict.NO_ENTRY


def test_a_row_counted_with_none_is_as_bad_as_it_gets() -> None:
    assessment = assess(with_row(conforming(), 2, counted=counted(0)))

    assert assessment.held_at is Verdict.NO_ENTRY
    assert not assessment.may_be_accepted
