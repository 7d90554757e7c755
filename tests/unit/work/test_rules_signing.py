"""Sign-offs that must not pass: old views, times to come, rework of a higher role."""

from datetime import timedelta
from decimal import Decimal

import pytest

from fieldapp.assess import assess
from fieldapp.work.demo.story import JUNCTION, MAIN
from fieldapp.work.demo.walking import Look
from fieldapp.work.deviations import granted_for
from fieldapp.work.known import current
from fieldapp.work.people import NoSuchPerson, person, revoke
from fieldapp.work.round import RoundWork
from fieldapp.work.rounds import ClassLeftOut, begin_round, keep_touch, look_again
from fieldapp.work.sign import (
    NotToBeAccepted,
    NotYoursToLift,
    Signing,
    TabletRevoked,
    TouchedSince,
    sign_round,
)
from fieldapp.work.standard_in_force import adopt, in_force
from fieldapp.work.touches import BoltMarked
from fieldapp.work.withdrawals import withdraw
from schemas.bodies.deviation import Deviation
from schemas.bodies.round import BoltSeen
from tests.demo_mine import CODES
from tests.unit.work.conftest import Shift

DAY = CODES["Day supervisor"]
WIDE = Look(answers={"spacing 3": Decimal("1.45")})


def wide(shift: Shift, work: RoundWork, hours: float = 20) -> Deviation:
    return Deviation(
        round=work.round_id,
        check="bolt_spacing",
        row=3,
        reason="a strap was put across",
        ends_at=shift.clock() + timedelta(hours=hours),
    )


def test_what_was_touched_after_the_view_was_taken_is_looked_at_first(shift: Shift) -> None:
    """The bolter marks a missing bolt while the supervisor's screen shows none."""
    work = shift.look(on_disk=True)
    gone = BoltSeen(position=4, state="missing")
    keep_touch(shift.site, work, BoltMarked(at=shift.clock(), row=2, bolt=gone))

    with pytest.raises(TouchedSince, match="touched 1 more time than"):
        shift.sign(work)


def test_nothing_is_accepted_on_a_tablet_that_the_office_revoked(
    shift: Shift, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fieldapp.work.sign.is_revoked", lambda _site: True)
    work = shift.look()

    with pytest.raises(TabletRevoked, match="counts nowhere"):
        shift.sign(work)
    shift.sign(work, "sent back")


def test_nobody_signs_for_a_time_to_come(shift: Shift) -> None:
    """What cures until tomorrow has not cured today, whatever time the signing names."""
    later = shift.clock() + timedelta(days=3)
    work = shift.look()
    signing = Signing(work, "accepted", later)
    body = sign_round(shift.site, shift.who(), signing, DAY).sign_off.body

    assert body.judged_at == shift.clock() < later


def test_a_supervisor_accepts_nothing_that_the_engineer_sent_back(shift: Shift) -> None:
    sent_back = shift.sign(shift.look(), "sent back", "Geotechnical engineer")
    again = look_again(shift.site, sent_back.round.id, shift.who())
    with pytest.raises(NotYoursToLift):
        shift.sign(again)
    shift.sign(again, "accepted", "Geotechnical engineer")

    assert shift.entry().state == "entry allowed"


def test_an_acceptance_names_the_rework_that_it_lifts(shift: Shift) -> None:
    sent_back = shift.sign(shift.look(), "sent back")
    again = shift.sign(look_again(shift.site, sent_back.round.id, shift.who()))

    assert again.sign_off.body.lifts == (sent_back.sign_off.id,)


def test_whoever_left_while_signed_in_signs_nothing(shift: Shift) -> None:
    work, session = shift.look(), shift.who()
    revoke(shift.site, person(shift.site, "Day supervisor"), site_code=CODES["site"])

    with pytest.raises(NoSuchPerson):
        sign_round(shift.site, session, Signing(work, "sent back", shift.clock()), DAY)


# --- deviations -------------------------------------------------------------------------------


def test_the_engineer_grants_a_deviation_after_the_round_was_sent_back(shift: Shift) -> None:
    """Situation: a fault made the row off pattern. Sent back, looked at, granted, accepted."""
    work = shift.look(WIDE)
    sent_back = shift.sign(work, "sent back")
    shift.grant(wide(shift, work))
    again = shift.sign(look_again(shift.site, sent_back.round.id, shift.who()))

    assert again.sign_off.body.decision == "accepted"
    assert len(again.sign_off.body.deviations) == 1


def test_an_acceptance_ends_with_the_deviation_that_it_stood_on(shift: Shift) -> None:
    work = shift.look(WIDE)
    granted = shift.grant(wide(shift, work))
    shift.sign(work)
    before = shift.entry().state
    engineer = shift.who("Geotechnical engineer")
    withdraw(shift.site, granted.entry.revision, engineer, reason="the strap came down")

    assert before == "entry allowed"
    assert (shift.entry().state, shift.entry().line_m) == ("barricaded", work.seen.joint_m)


def test_a_deviation_granted_anew_counts_from_the_new_one(shift: Shift) -> None:
    work = shift.look(WIDE)
    shift.grant(wide(shift, work, hours=1))
    shift.wait(hours=2)
    shift.grant(wide(shift, work))
    shift.sign(work)

    assert len(granted_for(shift.site, work.round_id)) == 2
    assert shift.entry().state == "entry allowed"


# --- standards --------------------------------------------------------------------------------


def test_a_newer_revision_with_an_earlier_date_is_in_force(shift: Shift) -> None:
    now = in_force(shift.site, shift.clock()).body
    earlier = {"revision": 6, "effective_from": now.effective_from - timedelta(days=9)}
    adopt(shift.site, now.model_copy(update=earlier), shift.who("Geotechnical engineer"))

    assert in_force(shift.site, shift.clock()).body.revision == 6


def test_of_two_revisions_of_one_date_the_newer_is_in_force(shift: Shift) -> None:
    now = in_force(shift.site, shift.clock()).body
    newer = now.model_copy(update={"revision": 6})
    adopt(shift.site, newer, shift.who("Geotechnical engineer"))

    assert in_force(shift.site, shift.clock()).body.revision == 6


def test_a_revision_of_tomorrow_is_not_in_force_today(shift: Shift) -> None:
    now = in_force(shift.site, shift.clock()).body
    at = shift.clock() + timedelta(days=1)
    tomorrow = now.model_copy(update={"revision": 6, "effective_from": at})
    adopt(shift.site, tomorrow, shift.who("Geotechnical engineer"))

    assert in_force(shift.site, shift.clock()).body.revision == 5
    assert in_force(shift.site, at).body.revision == 6


def test_a_revision_without_the_heading_s_class_begins_no_round_there(shift: Shift) -> None:
    now = in_force(shift.site, shift.clock()).body
    others = tuple(it for it in now.classes if it.code != "W3")
    tests = tuple(it for it in now.bolt_tests if it.bolt_type != "LB50")
    changes = {"revision": 6, "classes": others, "bolt_tests": tests, "prices": None}
    without = now.model_copy(update=changes)
    adopt(shift.site, without, shift.who("Geotechnical engineer"))

    with pytest.raises(ClassLeftOut):
        begin_round(shift.site, shift.place(JUNCTION).id, shift.who())


def test_a_round_is_named_for_the_standard_that_it_was_judged_by(shift: Shift) -> None:
    """The revision shown was withdrawn meanwhile: it is judged by the one in force."""
    now = in_force(shift.site, shift.clock())
    engineer = shift.who("Geotechnical engineer")
    newer = adopt(shift.site, now.body.model_copy(update={"revision": 6}), engineer)
    begin_round(shift.site, shift.place(MAIN).id, shift.who())
    withdraw(shift.site, newer.entry.revision, engineer, reason="a wrong limit")
    shift.reopened()
    work = shift.row(MAIN).open_round
    assert work is not None
    body = shift.sign(work.work, "sent back").sign_off.body

    assert body.standard == now.entry.revision
    assert work.work.standard == now.body


def test_a_withdrawn_deviation_is_still_in_the_ledger(shift: Shift) -> None:
    work = shift.look(WIDE)
    granted = shift.grant(wide(shift, work))
    engineer = shift.who("Geotechnical engineer")
    withdraw(shift.site, granted.entry.revision, engineer, reason="the strap came down")

    assert granted.entry in shift.site.store.ledger.all()
    assert current(shift.site, "deviation", Deviation) == ()
    with pytest.raises(NotToBeAccepted):
        shift.sign(work)
    assert not assess(work.bundle(shift.clock())).may_be_accepted
