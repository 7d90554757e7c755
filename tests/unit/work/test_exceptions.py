"""What can be said of one bolt, and what follows from it."""

from decimal import Decimal
from functools import cache

import pytest

from fieldapp.work.demo.scenarios import CONFORMING, work_of
from fieldapp.work.exceptions import (
    BoltPlace,
    beside,
    corroded,
    hole_at,
    marked,
    marking,
    statements,
    taped,
)
from fieldapp.work.questions import Asker
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import RowAsBroken
from schemas.bodies.round import BoltSeen, ProfileSeen
from tests.demo_mine import PRESENT
from tests.standards import changed

STANDARD = changed(lambda _document: None)
ASKER = Asker(PRESENT, "somebody")
NEW = BoltPlace(row=2, old_index=None, position=4, s_m=Decimal("-1.25"))
OLD = BoltPlace(row=None, old_index=1, position=4, s_m=Decimal("-1.25"))


@cache
def work() -> RoundWork:
    return work_of(CONFORMING, STANDARD, PRESENT)


def test_a_place_is_said_as_people_say_it() -> None:
    assert NEW.words == "row 2, bolt 4 from the left"
    assert BoltPlace(2, None, None, Decimal(1)).words == "row 2, extra bolt"
    assert OLD.words == "old row, bolt 4 from the left"


def test_everything_said_is_about_that_position() -> None:
    said = (*statements(NEW), *beside(NEW), *corroded(OLD))

    assert {it.bolt.position for it in said} == {4}
    assert len({it.label for it in said}) == len(said)


def test_a_mark_goes_to_its_row() -> None:
    loose = statements(NEW)[0].bolt
    new = work().touched(marking(NEW, ASKER)(loose))
    old = work().touched(marking(OLD, ASKER)(loose))

    assert marked(new, NEW) == loose
    assert marked(old, OLD) == loose
    assert marked(work(), NEW) is None


def test_a_bolt_beside_its_hole_stands_where_it_is_said_to() -> None:
    places = {it.label: it.bolt.s_m for it in beside(NEW)}

    assert places["0.3 m left"] == Decimal("-1.55")
    assert places["0.2 m right"] == Decimal("-1.05")


def test_taping_a_place_keeps_what_was_said_before() -> None:
    broken = BoltSeen(position=4, state="broken")

    assert taped(broken, NEW, Decimal("-1.3")).state == "broken"
    assert taped(None, NEW, Decimal("-1.3")) == BoltSeen(
        position=4, state="present", plate="seated", s_m=Decimal("-1.300"), method="tape"
    )


@pytest.mark.parametrize(("s_m", "low_m", "high_m"), [("0", 4.0, 6.0), ("-9", 0.0, 0.01)])
def test_a_hole_knows_its_height_above_the_floor(s_m: str, low_m: float, high_m: float) -> None:
    hole = hole_at(work(), Decimal("1380"), Decimal(s_m), openings=2)

    # The crown is the drive's height above the floor; beyond the foot of a wall is the floor.
    assert low_m <= hole.above_floor_m <= high_m


def test_a_hole_s_height_is_by_the_row_that_it_lies_by() -> None:
    """The same 5 m along the rock from the crown stand higher in a row that is broken wider."""
    usual = work()
    wide = ProfileSeen(width_m=Decimal("7.0"), rise_m=Decimal("2.6"), method="laser")
    touch = RowAsBroken(at=usual.began.started_at, row=2, profile=wide)
    broken = usual.touched(touch)
    at = {row.number: row.chainage_m for row in broken.bolted}

    def height(one: RoundWork, row: int) -> Decimal:
        return hole_at(one, at[row], Decimal(-5), openings=2).above_floor_m

    assert height(broken, 2) > height(usual, 2)
    assert height(broken, 1) == height(usual, 1)
