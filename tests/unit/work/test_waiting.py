"""What a heading waits for: nothing is begun twice, and nothing unaccepted is passed over."""

from decimal import Decimal

import pytest

from fieldapp.work.demo.story import MAIN, ORE_N, ORE_S, READY, TWO_MISSING
from fieldapp.work.events import report_event
from fieldapp.work.rounds import last_round, look_again, open_round
from fieldapp.work.waiting import Waiting, waiting
from tests.unit.work.conftest import Shift


def waits(shift: Shift, name: str) -> Waiting:
    place = shift.place(name)
    return waiting(shift.site, place, open_round(shift.site, place.id))


@pytest.mark.parametrize(
    ("name", "what", "number"),
    [
        (ORE_S, "go on", 61),  # a draft is open
        (ORE_N, "look again", 23),  # sent back
        (READY, "begin", 65),  # fired, and nobody has looked
        (MAIN, "nothing", 88),  # accepted to the face: the next one has not been fired
    ],
)
def test_a_heading_waits_for(shift: Shift, name: str, what: str, number: int) -> None:
    found = waits(shift, name)

    assert (found.what, found.number) == (what, number)


def test_a_firing_makes_an_accepted_heading_wait(shift: Shift) -> None:
    shift.wait(minutes=5)
    place = shift.place(MAIN).id
    report_event(shift.site, place, "fired", Decimal(612), None, fired_m=Decimal("3.6"))

    found = waits(shift, MAIN)

    assert (found.what, found.number, found.since) == ("begin", 88, shift.clock())


def test_a_round_that_is_looked_at_again_is_gone_on_with(shift: Shift) -> None:
    sent_back = last_round(shift.site, shift.place(ORE_N).id)
    assert sent_back is not None

    look_again(shift.site, sent_back.id, shift.who())

    found = waits(shift, ORE_N)
    assert (found.what, found.round_id) == ("go on", sent_back.id)


def test_a_round_that_was_sent_back_is_looked_at_before_the_next_begins(shift: Shift) -> None:
    signed = shift.sign(shift.look(TWO_MISSING), "sent back")
    shift.wait(minutes=5)
    place = shift.place(READY).id
    report_event(shift.site, place, "fired", Decimal("308.5"), None, fired_m=Decimal("3.6"))

    found = waits(shift, READY)

    assert (found.what, found.round_id) == ("look again", signed.round.id)
