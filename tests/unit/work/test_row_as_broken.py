"""One row is broken wider than the rest: what is asked of it then, and what is kept."""

from dataclasses import replace
from decimal import Decimal

from fieldapp.work.demanded import demanded_in_old_row, demanded_in_row, overbreak_of
from fieldapp.work.round import RoundWork
from fieldapp.work.rounds import begin_round
from fieldapp.work.touches import ProfileMeasured, RowAsBroken, RowCounted, read_touch, write_touch
from schemas.bodies.round import ProfileSeen, RowSeen
from tests.unit.work.conftest import Shift

WIDE = ProfileSeen(width_m=Decimal("7.0"), rise_m=Decimal("2.6"), method="tape")


def begun(shift: Shift) -> RoundWork:
    return begin_round(shift.site, shift.place().id, shift.who())


def broken(shift: Shift, work: RoundWork, row: int) -> RoundWork:
    by = shift.who().person_id
    return work.touched(RowAsBroken(at=shift.clock(), by=by, row=row, profile=WIDE))


def test_more_bolts_are_asked_for_at_that_row_alone(shift: Shift) -> None:
    usual = begun(shift)
    wider = broken(shift, usual, 2)

    assert demanded_in_row(wider, 2) > demanded_in_row(usual, 2)
    assert demanded_in_row(wider, 1) == demanded_in_row(usual, 1)


def test_a_row_that_was_counted_as_designed_is_counted_again(shift: Shift) -> None:
    work = begun(shift)
    counted = work.touched(
        RowCounted(at=shift.clock(), by=None, row=2, plates=demanded_in_row(work, 2), drawn=(3,))
    )
    (row,) = (it for it in broken(shift, counted, 2).seen.rows if it.number == 2)

    assert row == RowSeen(number=2, profile=WIDE)


def test_it_is_kept_in_the_draft_as_it_was_said(shift: Shift) -> None:
    touch = broken(shift, begun(shift), 2).touches[-1]

    assert read_touch(write_touch(touch)) == touch


def test_an_old_row_is_asked_for_as_its_own_row_was_broken(shift: Shift) -> None:
    """The last row of the round before was broken wider; the one before it was not."""
    work = begun(shift)
    before = work.seen.model_copy(
        update={
            "profile": None,
            "joint_m": work.seen.old_rows[0].chainage_m,
            "rows": (RowSeen(number=1, profile=None),),
        }
    )
    wide = before.model_copy(update={"rows": (RowSeen(number=1, profile=WIDE),)})
    asked = [
        demanded_in_old_row(replace(work, previous=previous), len(work.seen.old_rows) - 1)
        for previous in (before, wide)
    ]

    assert asked[1] > asked[0]


def test_overbreak_is_told_once_the_drive_was_measured(shift: Shift) -> None:
    work = begun(shift)
    touch = ProfileMeasured(at=shift.clock(), by=None, profile=WIDE)

    assert overbreak_of(work) is None
    assert (overbreak_of(work.touched(touch)) or 0) > 0
