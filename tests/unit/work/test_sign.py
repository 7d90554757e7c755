"""Who may sign what, and what a sign-off says."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from fieldapp.assess import assess
from fieldapp.assess.readings import last_row_m
from fieldapp.store.codes import SignCodeDelayed
from fieldapp.work.demanded import demanded_in_row
from fieldapp.work.demo.story import ORE_N, TWO_MISSING
from fieldapp.work.demo.walking import Look
from fieldapp.work.events import report_event
from fieldapp.work.judging import judged_bundle
from fieldapp.work.notices import inspect, notices
from fieldapp.work.roles import NotYours
from fieldapp.work.rounds import keep_touch, look_again, open_round, rounds, with_deviations
from fieldapp.work.sign import (
    STATES,
    ClockIsBehind,
    DemoStandard,
    NotToBeAccepted,
    OwnWork,
    Signing,
    assessment_hash,
    sign_round,
)
from fieldapp.work.signatures import signature_fits
from fieldapp.work.touches import BoltMarked, LapRead, RowCounted
from schemas.bodies.round import BoltSeen
from schemas.bodies.sign_off import Decision
from schemas.findings import Verdict
from schemas.wrapped_key import WrongSignCode
from tests.demo_mine import CODES
from tests.unit.work.conftest import Shift

DAY = CODES["Day supervisor"]


def test_a_conforming_round_is_accepted(shift: Shift) -> None:
    signed = shift.sign(shift.look())

    assert signed.sign_off.body.decision == "accepted"


def test_an_accepted_round_says_which_standard_it_meets_and_what_nobody_saw(
    shift: Shift,
) -> None:
    body = shift.sign(shift.look()).sign_off.body

    assert body.says == (
        "meets S-2 revision 5 in what was looked at; "
        "not seen: bond, hidden length, grout, ground behind mesh"
    )
    assert body.states == STATES


def test_a_round_with_anything_left_out_can_t_be_accepted(shift: Shift) -> None:
    """Every answer of a conforming round is needed: take one away, and it is no more accepted."""
    work = shift.look()
    for left_out in range(len(work.touches)):
        touches = (*work.touches[:left_out], *work.touches[left_out + 1 :])
        found = assess(replace(work, touches=touches).bundle(shift.clock()))

        assert not found.may_be_accepted, f"nobody missed {work.touches[left_out]}"


@pytest.mark.parametrize("decision", ["sent back", "barricaded"])
def test_a_round_that_nobody_looked_at_can_be_closed(shift: Shift, decision: Decision) -> None:
    work = shift.look(Look(stops_before="ground"))

    assert shift.sign(work, decision).sign_off.body.decision == decision


@pytest.mark.parametrize(
    ("look", "verdict"),
    [
        (Look(stops_before="face right"), Verdict.NOT_LOOKED_AT),
        (Look(answers={"face right": Decimal("0.995")}), Verdict.MEASURE_AGAIN),
        (Look(answers={"lap 1": Decimal(210)}), Verdict.REWORK),
        (TWO_MISSING, Verdict.NO_ENTRY),
    ],
    ids=lambda it: str(getattr(it, "value", "")),
)
def test_a_round_that_falls_short_can_t_be_accepted(
    shift: Shift, look: Look, verdict: Verdict
) -> None:
    work = shift.look(look)
    with pytest.raises(NotToBeAccepted) as caught:
        shift.sign(work)

    assert verdict in caught.value.headline


def test_what_isn_t_accepted_leaves_the_draft_as_it_was(shift: Shift) -> None:
    work = shift.look(TWO_MISSING, on_disk=True)
    with pytest.raises(NotToBeAccepted):
        shift.sign(work)
    kept = open_round(shift.site, shift.place().id)

    assert kept is not None
    assert kept.work.touches == work.touches


@pytest.mark.parametrize("who", ["Geotechnical technician", "Records keeper", "Bolter, crew A"])
@pytest.mark.parametrize("decision", ["accepted", "sent back"])
def test_below_a_shift_supervisor_nobody_signs(shift: Shift, who: str, decision: Decision) -> None:
    work = shift.look()
    with pytest.raises(NotYours):
        shift.sign(work, decision, who)


def test_the_engineer_signs_as_well(shift: Shift) -> None:
    signed = shift.sign(shift.look(), who="Geotechnical engineer")

    assert signed.sign_off.body.role == "geotechnical engineer"


@pytest.mark.parametrize("decision", ["accepted", "sent back", "barricaded"])
def test_nobody_signs_what_they_installed(shift: Shift, decision: Decision) -> None:
    work = shift.look()
    mine = work.began.model_copy(update={"installed_by": (shift.who().person_id,)})
    with pytest.raises(OwnWork):
        shift.sign(replace(work, began=mine), decision)


def test_another_supervisor_signs_what_one_installed(shift: Shift) -> None:
    work = shift.look()
    theirs = work.began.model_copy(update={"installed_by": (shift.who().person_id,)})
    signed = shift.sign(replace(work, began=theirs), who="Night supervisor")

    assert signed.sign_off.body.decision == "accepted"


def test_the_demo_s_standard_can_t_sign_a_real_heading(shift: Shift) -> None:
    work = shift.look()
    shift.site = replace(shift.site, mine=shift.site.mine.model_copy(update={"demo": False}))
    with pytest.raises(DemoStandard):
        shift.sign(work)


def test_a_clock_behind_the_newest_entry_is_asked_about(shift: Shift) -> None:
    work = shift.look()
    shift.clock.go_on(timedelta(days=-400))
    with pytest.raises(ClockIsBehind):
        shift.sign(work)


def test_a_time_that_was_confirmed_is_signed(shift: Shift) -> None:
    """Something else was recorded by a clock that was ahead; the look is of the right time."""
    shift.wait(hours=3)
    elsewhere = shift.place(ORE_N).id
    report_event(shift.site, elsewhere, "vehicle strike", Decimal("146.0"), shift.who())
    shift.wait(hours=-3)
    signing = Signing(shift.look(), "accepted", shift.clock(), clock_confirmed=True)
    signed = sign_round(shift.site, shift.who(), signing, DAY)

    assert signed.round.made_at == shift.clock()


def test_what_was_looked_at_in_the_future_is_not_accepted_by_confirming_the_time(
    shift: Shift,
) -> None:
    work = shift.look()
    shift.wait(hours=-1)
    signing = Signing(work, "accepted", shift.clock(), clock_confirmed=True)
    with pytest.raises(NotToBeAccepted) as caught:
        sign_round(shift.site, shift.who(), signing, DAY)

    assert caught.value.first == "Contradiction, not looked at"


def test_a_wrong_code_signs_nothing(shift: Shift) -> None:
    work = shift.look()
    with pytest.raises(WrongSignCode):
        sign_round(shift.site, shift.who(), Signing(work, "accepted", shift.clock()), "0000")

    assert open_round(shift.site, shift.place().id) is not None


def test_another_person_s_code_signs_nothing(shift: Shift) -> None:
    signing = Signing(shift.look(), "accepted", shift.clock())
    with pytest.raises(WrongSignCode):
        sign_round(shift.site, shift.who(), signing, CODES["Night supervisor"])


def test_who_guesses_has_to_wait_longer_and_longer(shift: Shift) -> None:
    signing = Signing(shift.look(), "accepted", shift.clock())
    waits = []
    for _ in range(30):
        try:
            sign_round(shift.site, shift.who(), signing, "0000")
        except SignCodeDelayed as delayed:
            waits.append(delayed.wait_s)
            shift.wait(seconds=delayed.wait_s)
        except WrongSignCode:
            continue

    assert waits == sorted(waits)
    assert waits[-1] > waits[0]


def test_the_sign_off_names_the_very_round_that_was_looked_at(shift: Shift) -> None:
    work = shift.look()
    signed = shift.sign(work)
    head = rounds(shift.site, shift.place().id)[-1]

    assert signed.sign_off.body.round_revision == head.entry.revision == signed.round.revision
    assert head.body == work.seen


def test_the_sign_off_s_hash_is_that_of_judging_again(shift: Shift) -> None:
    work = shift.look()
    body = shift.sign(work).sign_off.body

    assert body.assessment == assessment_hash(assess(work.bundle(body.judged_at)))


def test_after_an_event_a_round_is_accepted_only_once_somebody_has_inspected(
    shift: Shift,
) -> None:
    """What was signed meanwhile is judged alike for ever, by the events that its signer knew."""
    work = shift.look()
    report_event(shift.site, work.seen.heading, "vehicle strike", work.seen.joint_m, None)
    work = with_deviations(shift.site, work)
    with pytest.raises(NotToBeAccepted) as refused:
        shift.sign(work)
    signed = shift.sign(work, "sent back")
    inspect(shift.site, work.seen.heading, shift.who(), up_to_m=work.seen.joint_m)
    (seen,) = (it for it in rounds(shift.site, work.seen.heading) if it.id == work.round_id)
    again = judged_bundle(shift.site, seen, signed.sign_off, shift.site.now())

    assert "not looked at" in refused.value.headline
    assert "capacity not known since: vehicle strike at" in str(signed.assessment.findings)
    assert assessment_hash(assess(again)) == signed.sign_off.body.assessment


def test_the_signature_is_the_signer_s(shift: Shift) -> None:
    assert signature_fits(shift.site, shift.sign(shift.look()).sign_off.entry)


def test_what_was_signed_closes_the_draft(shift: Shift) -> None:
    shift.sign(shift.look())

    assert open_round(shift.site, shift.place().id) is None


def test_barricading_says_no_entry_at_once(shift: Shift) -> None:
    work = shift.look(TWO_MISSING)
    signed = shift.sign(work, "barricaded")
    stated = [it for it in notices(shift.site, shift.place().id) if it.entry == signed.notice]

    assert [(it.body.what, it.body.from_m) for it in stated] == [("no entry", work.seen.joint_m)]


def test_sending_back_states_no_notice(shift: Shift) -> None:
    assert shift.sign(shift.look(TWO_MISSING), "sent back").notice is None


def test_the_fix_list_names_the_places(shift: Shift) -> None:
    body = shift.sign(shift.look(TWO_MISSING), "sent back").sign_off.body

    assert any("row 2" in job and "right of the crown" in job for job in body.fix_list)


def test_the_entry_line_of_an_accepted_round_is_its_last_row(shift: Shift) -> None:
    work = shift.look()
    body = shift.sign(work).sign_off.body

    assert body.entry_line_m == last_row_m(work.seen)


def test_a_round_sent_back_leaves_entry_at_the_joint(shift: Shift) -> None:
    work = shift.look(TWO_MISSING)

    assert shift.sign(work, "sent back").sign_off.body.entry_line_m == work.seen.joint_m


def test_old_rows_that_nobody_confirmed_take_the_line_back_before_them(shift: Shift) -> None:
    work = shift.look(Look(stops_before="old row 1"))
    line_m = shift.sign(work, "sent back").sign_off.body.entry_line_m

    assert line_m == work.seen.old_rows[0].chainage_m - Decimal("0.9")


def test_rework_that_was_looked_at_again_is_accepted(shift: Shift) -> None:
    sent_back = rounds(shift.site, shift.place(ORE_N).id)[-1]
    work = look_again(shift.site, sent_back.id, shift.who())
    plate = BoltSeen(position=5, state="present", plate="seated")
    for mended in (
        BoltMarked(at=shift.clock(), row=1, bolt=plate),
        RowCounted(at=shift.clock(), row=1, plates=demanded_in_row(work, 1), drawn=()),
        LapRead(at=shift.clock(), lap=1, openings=4),
    ):
        work = keep_touch(shift.site, work, mended)
    signed = shift.sign(work)

    assert signed.sign_off.body.decision == "accepted"
    assert shift.entry(ORE_N).state == "entry allowed"
