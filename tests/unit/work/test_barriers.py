"""Saying that the barrier is up: afterwards people are kept out by more than a screen."""

from decimal import Decimal

import pytest

from fieldapp.work.barriers import barrier_up
from fieldapp.work.demo.story import CUDDY, MAIN, ORE_N, READY
from fieldapp.work.events import report_event
from fieldapp.work.notices import notices, say_no_entry
from tests.unit.work.conftest import Shift


def said(shift: Shift, name: str) -> list[tuple[str, Decimal]]:
    found = notices(shift.site, shift.place(name).id)
    return [(it.body.what, it.body.from_m) for it in found]


@pytest.mark.parametrize("name", [READY, ORE_N, CUDDY])
def test_a_heading_closed_by_its_rounds_counts_as_barricaded(shift: Shift, name: str) -> None:
    line_m = shift.entry(name).line_m

    barrier_up(shift.site, shift.place(name).id, shift.who())

    assert shift.entry(name).state == "barricaded"
    assert said(shift, name) == [("barrier up", line_m)]


def test_a_stated_no_entry_gets_its_barrier_and_no_second_notice(shift: Shift) -> None:
    say_no_entry(shift.site, shift.place(MAIN).id, Decimal(600), None)

    barrier_up(shift.site, shift.place(MAIN).id, None)

    assert shift.entry(MAIN).state == "barricaded"
    assert said(shift, MAIN) == [("barrier up", Decimal(600))]


def test_a_barrier_too_far_inbye_is_not_enough(shift: Shift) -> None:
    place = shift.place(MAIN).id
    say_no_entry(shift.site, place, Decimal(610), None)
    report_event(shift.site, place, "seismic", Decimal(600), None)
    line_m = shift.entry(MAIN).line_m

    barrier_up(shift.site, place, None)

    assert shift.entry(MAIN).state == "barricaded"
    assert ("barrier up", line_m) in said(shift, MAIN)


def test_where_entry_is_allowed_no_barrier_is_stated(shift: Shift) -> None:
    barrier_up(shift.site, shift.place(MAIN).id, shift.who())

    assert said(shift, MAIN) == []
    assert shift.entry(MAIN).state == "entry allowed"
