"""The face of a heading through firings and rounds: nothing takes it outbye unsaid.

The demo's ready heading was fired for five rows of 0.9 m, to 308.48 m. With four rows the last
one stands some 1.7 m from there, and 1.0 m is allowed.
"""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from fieldapp.assess.readings import last_row_m
from fieldapp.work.demo.walking import Look, walk
from fieldapp.work.events import report_event
from fieldapp.work.face import Face, face
from fieldapp.work.record import record, take_in
from fieldapp.work.round import RoundWork
from fieldapp.work.rounds import begin_round, look_again, open_round
from fieldapp.work.sign import NotToBeAccepted
from schemas.findings import Verdict
from tests.unit.work.conftest import Shift
from tests.unit.work.test_entry import second_tablet

FIRED_TO = Decimal("308.48")
UNSAID = "face nearer"


def the_face(shift: Shift) -> Face:
    return face(shift.site, shift.place())


def fire(shift: Shift, metres: str) -> None:
    at_m = the_face(shift).chainage_m
    report_event(shift.site, shift.place().id, "fired", at_m, None, fired_m=Decimal(metres))


def four_rows(shift: Shift, stops_before: str | None = None) -> RoundWork:
    """Look at four rows where five were fired for; asked why, say that it advanced less."""
    work = begin_round(shift.site, shift.place().id, shift.who(), rows=4)
    look = Look(stops_before=stops_before)
    return walk(shift.site, shift.clock, work, shift.who(), look)


def unasked(work: RoundWork) -> RoundWork:
    """Give the round as one kept it that knew nothing of where the face was."""
    return replace(work, began=work.began.model_copy(update={"face_known_m": None}))


# --- a row short --------------------------------------------------------------------------------


def test_a_round_knows_where_the_face_was_when_it_was_begun(shift: Shift) -> None:
    assert begin_round(shift.site, shift.place().id, None).seen.face_known_m == FIRED_TO


def test_a_face_read_a_row_short_can_not_be_accepted_unsaid(shift: Shift) -> None:
    with pytest.raises(NotToBeAccepted) as refused:
        shift.sign(four_rows(shift, UNSAID))

    assert refused.value.first == "Last row to face, not looked at"


def test_a_face_read_a_row_short_stays_where_it_was_fired_to(shift: Shift) -> None:
    shift.sign(four_rows(shift, UNSAID), "sent back")

    assert the_face(shift).chainage_m == FIRED_TO


def test_a_round_accepted_before_anybody_asked_leaves_its_metres_unsigned(shift: Shift) -> None:
    work = unasked(four_rows(shift, UNSAID))
    shift.sign(work)
    row, last_m = shift.row(), last_row_m(work.seen)
    read_m = the_face(shift).read_m

    assert row.mark is Verdict.NOT_LOOKED_AT
    assert row.entry.line_m == last_m
    assert row.entry.because == (
        f"{FIRED_TO - last_m} m are not signed: the face was read at {read_m} m, "
        f"nobody said why it is not at {FIRED_TO} m",
    )
    assert row.entry.coverage.signed_m == row.entry.coverage.fired_m - (FIRED_TO - last_m)


def test_a_reason_is_kept_with_the_round_and_takes_the_face_to_its_reading(shift: Shift) -> None:
    work = four_rows(shift)
    signed = shift.sign(work)
    said = signed.round.body["face_nearer"]

    assert said == {
        "known_m": "308.48",
        "read_m": str(the_face(shift).chainage_m),
        "why": "the advance was less than was reported",
    }
    assert the_face(shift).chainage_m < FIRED_TO
    assert shift.entry().verdict is Verdict.ACCEPT
    assert shift.entry().coverage.signed_m == shift.entry().coverage.fired_m


def test_looking_again_asks_why_where_nobody_had_asked(shift: Shift) -> None:
    signed = shift.sign(unasked(four_rows(shift, UNSAID)))
    again = look_again(shift.site, signed.round.id, shift.who())
    shift.sign(walk(shift.site, shift.clock, again, shift.who(), Look()))

    assert shift.entry().verdict is Verdict.ACCEPT
    assert the_face(shift).chainage_m < FIRED_TO


# --- firings ------------------------------------------------------------------------------------


def test_a_reason_takes_back_no_firing_that_came_later(shift: Shift) -> None:
    shift.sign(four_rows(shift))
    read_m = the_face(shift).chainage_m
    fire(shift, "3.6")

    assert the_face(shift).chainage_m == read_m + Decimal("3.6")


def test_a_reason_takes_back_no_firing_that_it_did_not_know(shift: Shift) -> None:
    """The next round was fired while the draft lay open."""
    work = four_rows(shift)
    fire(shift, "3.6")
    shift.sign(work)
    read_m = work.seen.face_nearer.read_m if work.seen.face_nearer else None

    assert the_face(shift).chainage_m == (read_m or 0) + Decimal("3.6")
    assert shift.entry().verdict is not Verdict.ACCEPT


def test_a_firing_reported_while_the_round_was_looked_at_is_asked_about_again(
    shift: Shift,
) -> None:
    """Whoever looks again knows of it: what the reason said before does not account for it."""
    work = four_rows(shift)
    fire(shift, "3.6")
    signed = shift.sign(work, "sent back")
    again = look_again(shift.site, signed.round.id, shift.who())
    waiting = open_round(shift.site, shift.place().id)

    assert again.seen.face_known_m == FIRED_TO + Decimal("3.6")
    assert waiting is not None
    with pytest.raises(NotToBeAccepted):
        shift.sign(waiting.work)


def test_what_was_fired_is_counted_from_where_the_face_was_surveyed(shift: Shift) -> None:
    surveyed_m = shift.place().body.face_m

    assert the_face(shift).fired_from_m == surveyed_m
    assert shift.entry().coverage.fired_m == FIRED_TO - surveyed_m


# --- several revisions --------------------------------------------------------------------------


def test_of_two_revisions_the_one_without_a_reason_holds_the_face(
    shift: Shift, tmp_path: Path
) -> None:
    """Both were recorded from one draft, on two tablets: the face is where the stricter says."""
    first = four_rows(shift, UNSAID)
    record(shift.site, first, shift.who())
    known = shift.site.store.ledger.of_thing(first.round_id)[0]
    other = second_tablet(shift, tmp_path / "other")
    for tablet, reason in ((shift, True), (other, False)):
        again = look_again(tablet.site, known.id, tablet.who())
        if reason:
            again = walk(tablet.site, tablet.clock, again, tablet.who(), Look())
        record(tablet.site, again, tablet.who())
    explained_m = the_face(shift).chainage_m
    shift.site.store.ledger.add(other.site.store.ledger.all())
    other.site.store.close()

    assert explained_m < FIRED_TO
    assert the_face(shift).chainage_m == FIRED_TO


def test_a_round_taken_in_from_a_file_brings_no_face_back(shift: Shift) -> None:
    """What another program wrote down knows nothing of the face of this mine."""
    work = unasked(four_rows(shift, UNSAID))
    bundle = work.bundle(shift.clock())
    record(shift.site, work, shift.who())
    later = bundle.model_copy(
        update={"round": bundle.round.model_copy(update={"number": bundle.round.number + 1})}
    )
    record(shift.site, take_in(shift.site, later, shift.who()), shift.who())

    assert the_face(shift).chainage_m == FIRED_TO
