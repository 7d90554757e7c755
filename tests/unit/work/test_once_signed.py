"""What a decision promises is what entry is once it is signed, whatever else holds."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from fieldapp.assess import assess
from fieldapp.assess.entry.state import EntryState
from fieldapp.work.demo import READY
from fieldapp.work.demo.story import ORE_N
from fieldapp.work.events import report_event
from fieldapp.work.notices import restrict, say_no_entry
from fieldapp.work.once_signed import once_signed
from fieldapp.work.round import RoundWork
from fieldapp.work.rounds import last_round, look_again, with_deviations
from fieldapp.work.sign import NotToBeAccepted, entry_line_by
from schemas.bodies.sign_off import Decision
from tests.deviations import WIDE_SPACING, strap
from tests.unit.work.conftest import Shift

DECISIONS: tuple[Decision, ...] = ("accepted", "sent back", "barricaded")
Happens = Callable[[Shift], object]


def promised(shift: Shift, work: RoundWork, decision: Decision = "accepted") -> EntryState:
    assessment = assess(work.bundle(shift.clock()))
    return once_signed(shift.site, work, assessment, decision, shift.clock())


def nothing(_shift: Shift) -> None:
    """Nothing else holds entry back."""


def a_tremor(shift: Shift) -> None:
    report_event(shift.site, shift.place().id, "seismic", Decimal("303.18"), None)


def a_tremor_far_outbye(shift: Shift) -> None:
    report_event(shift.site, shift.place().id, "seismic", Decimal(120), None)


def a_notice(shift: Shift) -> None:
    say_no_entry(shift.site, shift.place().id, Decimal("304.5"), None, reason="loose rock")


def a_restriction(shift: Shift) -> None:
    until = shift.clock() + timedelta(hours=3)
    place = shift.place().id
    restrict(shift.site, place, Decimal(290), shift.who(), to="bolting crew only", until=until)


def a_firing(shift: Shift) -> None:
    """Of the next round, after this one was begun."""
    report_event(
        shift.site, shift.place().id, "fired", Decimal("308.5"), None, fired_m=Decimal("3.6")
    )


everything_else = pytest.mark.parametrize(
    "happens",
    [nothing, a_tremor, a_tremor_far_outbye, a_notice, a_restriction, a_firing],
    ids=lambda happens: happens.__name__.replace("_", " "),
)


@everything_else
@pytest.mark.parametrize("decision", DECISIONS)
def test_what_was_promised_is_what_entry_is(
    shift: Shift, happens: Happens, decision: Decision
) -> None:
    work = shift.look()
    happens(shift)
    then = promised(shift, work, decision)
    if (happens, decision) == (a_tremor, "accepted"):
        with pytest.raises(NotToBeAccepted):  # nobody knows what its bolts carry since
            shift.sign(work, decision)
        return

    shift.sign(work, decision)

    assert shift.entry() == then


@pytest.mark.parametrize("decision", ["sent back", "barricaded"])
def test_it_is_so_for_a_round_that_is_looked_at_again(shift: Shift, decision: Decision) -> None:
    place = shift.place(ORE_N)
    latest = last_round(shift.site, place.id)
    assert latest is not None
    work = look_again(shift.site, latest.id, shift.who())
    then = promised(shift, work, decision)

    shift.sign(work, decision)

    assert shift.entry(ORE_N) == then


def test_it_is_so_under_a_deviation(shift: Shift) -> None:
    work = shift.look(WIDE_SPACING, on_disk=True)
    granted = strap(work.round_id, shift.clock() + timedelta(hours=20))
    shift.grant(granted)
    work = with_deviations(shift.site, work)
    then = promised(shift, work)

    shift.sign(work)

    assert [it.what for it in then.deviations] == ["bolt spacing, row 3"]
    assert shift.entry() == then


def test_an_open_event_is_not_promised_away(shift: Shift) -> None:
    """The round alone would open the ground to its last row; the tremor holds it far outbye."""
    work = shift.look(on_disk=True)
    alone = entry_line_by(work, assess(work.bundle(shift.clock())), "accepted")
    a_tremor(shift)

    then = promised(shift, work)

    assert alone == Decimal("307.72")
    assert then.line_m == Decimal("223.18")  # the demo's standard: 80 m around a tremor
    assert then.stays == ("seismic at 303.2 m: until 21:35 UTC and an inspection",)


def test_what_stays_names_no_round(shift: Shift) -> None:
    """Rounds are what sign-offs are about; events and notices are not."""
    a_notice(shift)
    state = shift.entry(READY)

    assert state.stays == ("no entry: loose rock",)
    assert len(state.because) > 1


def test_a_promise_writes_nothing(shift: Shift) -> None:
    work = shift.look(on_disk=True)
    before = len(list(shift.site.store.ledger.all()))

    promised(shift, replace(work))

    assert len(list(shift.site.store.ledger.all())) == before
