"""Closing a heading at once: no chainage is typed, and the ground that was meant is closed."""

from decimal import Decimal

from fieldapp.work.closing import WHOLE_HEADING_M, closings, whole_headings
from fieldapp.work.demo.story import HEADINGS, MAIN, ORE_N
from fieldapp.work.notices import say_no_entry
from tests.unit.work.conftest import Shift


def last_rows_m(shift: Shift, name: str) -> Decimal | None:
    found = closings(shift.site, shift.clock())
    return next(it.last_rows_m for it in found if it.name == name)


def test_every_heading_can_be_closed(shift: Shift) -> None:
    names = [it.name for it in closings(shift.site, shift.clock())]

    assert names == [place.name for place in HEADINGS]


def test_the_last_two_rows_inside_the_entry_line_are_closed_too(shift: Shift) -> None:
    # rows of class D1 are 0.9 m apart, of class O2 1.2 m
    assert last_rows_m(shift, MAIN) == shift.entry(MAIN).line_m - Decimal("1.8")
    assert last_rows_m(shift, ORE_N) == shift.entry(ORE_N).line_m - Decimal("2.4")


def test_closing_the_last_rows_moves_the_entry_line_there(shift: Shift) -> None:
    from_m = last_rows_m(shift, MAIN)
    assert from_m is not None

    say_no_entry(shift.site, shift.place(MAIN).id, from_m, None)

    assert shift.entry(MAIN).line_m == from_m


def test_a_closing_never_lies_before_the_heading_begins(shift: Shift) -> None:
    say_no_entry(shift.site, shift.place(MAIN).id, Decimal("0.5"), None)

    assert last_rows_m(shift, MAIN) == WHOLE_HEADING_M


def test_closing_the_whole_heading_leaves_nowhere_to_go(shift: Shift) -> None:
    say_no_entry(shift.site, shift.place(MAIN).id, WHOLE_HEADING_M, None)

    state = shift.entry(MAIN)
    assert (state.line_m, state.state) == (Decimal(0), "no entry, barrier not yet up")


def test_a_whole_heading_can_be_closed_before_anybody_has_looked_for_its_last_rows(
    shift: Shift,
) -> None:
    found = whole_headings(shift.site)

    assert [it.name for it in found] == [place.name for place in HEADINGS]
    assert {it.last_rows_m for it in found} == {None}
