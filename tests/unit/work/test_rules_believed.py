"""What is believed: signatures that fit, and milder words from who may say them."""

from datetime import timedelta
from decimal import Decimal

import pytest

from fieldapp.work.authority import Which, counting
from fieldapp.work.demo.story import MAIN, ORE_N, READY, TWO_MISSING
from fieldapp.work.deviations import granted_for
from fieldapp.work.events import report_event
from fieldapp.work.known import Known
from fieldapp.work.notices import answer, inspect, lift, say_no_entry
from fieldapp.work.own_keys import key_with
from fieldapp.work.people import NoSuchPerson, person, reset_code, revoke, sign_in
from fieldapp.work.sign import Signed
from fieldapp.work.signed import sign_offs
from fieldapp.work.standard_in_force import in_force
from fieldapp.work.withdrawals import NotYoursToWithdraw, withdraw
from fieldapp.work.writing import new_thing_id, state, written
from schemas.bodies.deviation import Deviation
from schemas.bodies.entry_notice import EntryNotice
from schemas.bodies.sign_off import SignOff
from schemas.bodies.withdrawal import Withdrawal
from schemas.entry import Entry, Stated, new_entry
from schemas.findings import Verdict
from schemas.part import Part
from schemas.signatures import SigningKey, sign
from tests.demo_mine import CODES
from tests.unit.work.conftest import Shift

STRANGER = SigningKey(b"\x07" * 32)
SITE_CODE = CODES["site"]


def accept(shift: Shift) -> Signed:
    return shift.sign(shift.look())


def forged(shift: Shift, known: Known[SignOff], **changes: object) -> Entry:
    """Write the sign-off once more with something else in it, under a stranger's key."""
    body = known.body.model_copy(
        update={"public_key": STRANGER.public_key, "signature": None, **changes}
    )
    return sign(written(shift.site, "sign_off", body, author=known.entry.author), STRANGER)


def say(shift: Shift, kind: str, body: Part, who: str | None, over: Entry | None = None) -> Entry:
    """State something past every rule of the work floor, as another program could."""
    author = shift.who(who).person_id if who else None
    return state(
        shift.site,
        kind,
        body,
        author=author,
        thing_id=over.id if over else None,
        parents=(over.revision,) if over else (),
    )


def void(shift: Shift, entry: Entry, who: str | None) -> None:
    body = Withdrawal(thing=entry.id, revision=entry.revision, reason="by mistake")
    say(shift, "withdrawal", body, who)


# --- signatures -----------------------------------------------------------------------------


def test_a_sign_off_with_a_stranger_s_signature_opens_nothing_and_is_named(shift: Shift) -> None:
    work = shift.look()
    signed = shift.sign(work, "sent back")
    void(shift, signed.sign_off.entry, "Day supervisor")
    line = work.seen.joint_m + 4
    entry = forged(shift, signed.sign_off, decision="accepted", entry_line_m=line)
    shift.site.store.ledger.add([entry])
    state = shift.entry()

    assert state.line_m < work.seen.joint_m
    assert any("signature is not the signer's" in why for why in state.because)
    assert shift.row().last_round == "Not signed"


def test_a_sign_off_that_was_altered_after_signing_counts_as_none(shift: Shift) -> None:
    known = shift.sign(shift.look(TWO_MISSING), "sent back").sign_off
    void(shift, known.entry, "Day supervisor")
    body = known.body.model_copy(update={"decision": "accepted"})
    say(shift, "sign_off", body, "Day supervisor")

    assert shift.entry().state != "entry allowed"


def test_a_forged_sign_off_hides_no_stricter_one_that_it_names_as_its_parent(
    shift: Shift,
) -> None:
    known = shift.sign(shift.look(TWO_MISSING), "sent back").sign_off
    before = shift.entry()
    body = forged(shift, known, decision="accepted").body
    entry = new_entry(
        "sign_off",
        1,
        known.id,
        body,
        Stated(known.entry.author, shift.clock(), "UTC", known.entry.clock),
        parents=(known.entry.revision,),
    )
    shift.site.store.ledger.add([entry])

    assert (shift.entry().line_m, shift.entry().verdict) == (before.line_m, before.verdict)


def test_a_bolter_s_own_signature_under_a_supervisor_s_role_is_no_sign_off(shift: Shift) -> None:
    known = shift.sign(shift.look(), "sent back").sign_off
    void(shift, known.entry, "Day supervisor")
    bolter = person(shift.site, "Bolter, crew A")
    key = shift.site.store.keys.unlock(bolter.id, CODES["Bolter, crew A"], now=shift.clock())
    changes = {"public_key": key.public_key, "signature": None, "decision": "accepted"}
    body = known.body.model_copy(update=changes)
    entry = sign(written(shift.site, "sign_off", body, author=bolter.id), key)
    shift.site.store.ledger.add([entry])
    state = shift.entry()

    assert state.state != "entry allowed"
    assert any("was no shift supervisor" in why for why in state.because)


def test_nobody_signs_an_entry_line_beyond_the_last_row(shift: Shift) -> None:
    work = shift.look()
    known = shift.sign(work, "sent back").sign_off
    void(shift, known.entry, "Day supervisor")
    supervisor = person(shift.site, "Day supervisor")
    key = shift.site.store.keys.unlock(supervisor.id, CODES["Day supervisor"], now=shift.clock())
    changes = {"signature": None, "decision": "accepted", "entry_line_m": Decimal(99_999)}
    body = known.body.model_copy(update=changes)
    entry = sign(written(shift.site, "sign_off", body, author=supervisor.id), key)
    shift.site.store.ledger.add([entry])

    assert shift.entry().line_m < work.seen.joint_m + 5


# --- enrolment ------------------------------------------------------------------------------


def test_what_somebody_signed_before_they_left_still_counts(shift: Shift) -> None:
    accept(shift)
    revoke(shift.site, person(shift.site, "Day supervisor"), site_code=SITE_CODE)

    assert shift.entry().state == "entry allowed"


def test_what_somebody_signs_after_they_left_counts_as_none(shift: Shift) -> None:
    """Their key is still on another tablet, which has not heard of it."""
    known = shift.sign(shift.look(), "sent back").sign_off
    void(shift, known.entry, "Night supervisor")
    supervisor = person(shift.site, "Day supervisor")
    key = shift.site.store.keys.unlock(supervisor.id, CODES["Day supervisor"], now=shift.clock())
    revoke(shift.site, supervisor, site_code=SITE_CODE)
    shift.wait(minutes=5)
    body = known.body.model_copy(update={"signature": None, "decision": "accepted"})
    entry = sign(written(shift.site, "sign_off", body, author=supervisor.id), key)
    shift.site.store.ledger.add([entry])
    state = shift.entry()

    assert state.state != "entry allowed"
    assert any("enrolment had ended" in why for why in state.because)


def test_whoever_left_is_not_let_back_in_by_an_older_entry_said_again(shift: Shift) -> None:
    known = person(shift.site, "Bolter, crew A")
    ended = revoke(shift.site, known, site_code=SITE_CODE)
    say(shift, "person", known.body, None, over=ended.entry)

    with pytest.raises(NoSuchPerson):
        person(shift.site, "Bolter, crew A")
    with pytest.raises(NoSuchPerson):
        reset_code(shift.site, known, sign_code="7777", site_code=SITE_CODE)


def test_whoever_left_does_not_sign_in_from_a_list_shown_before(shift: Shift) -> None:
    known = person(shift.site, "Day supervisor")
    revoke(shift.site, known, site_code=SITE_CODE)

    with pytest.raises(NoSuchPerson):
        sign_in(shift.site, known, CODES["Day supervisor"])


def test_whoever_left_while_signed_in_lifts_and_inspects_nothing(shift: Shift) -> None:
    session = shift.who()
    place = shift.place(MAIN).id
    notice = say_no_entry(shift.site, place, Decimal(600), None)
    revoke(shift.site, person(shift.site, "Day supervisor"), site_code=SITE_CODE)

    with pytest.raises(NoSuchPerson):
        lift(shift.site, notice.id, session, barrier_down=True)
    with pytest.raises(NoSuchPerson):
        inspect(shift.site, place, session, up_to_m=Decimal(612))


# --- milder words ---------------------------------------------------------------------------


@pytest.mark.parametrize("who", [None, "Bolter, crew A", "Records keeper"])
def test_a_no_entry_lifted_by_somebody_who_may_not_stands(shift: Shift, who: str | None) -> None:
    notice = say_no_entry(shift.site, shift.place(MAIN).id, Decimal(600), shift.who())
    before = shift.entry(MAIN)
    lifted = notice.body.model_copy(update={"what": "lifted", "barrier_down": True})
    say(shift, "entry_notice", lifted, who, over=notice.entry)

    assert shift.entry(MAIN) == before


def test_a_supervisor_lifts_nothing_that_the_engineer_set(shift: Shift) -> None:
    engineer = shift.who("Geotechnical engineer")
    notice = say_no_entry(shift.site, shift.place(MAIN).id, Decimal(600), engineer)
    lifted = notice.body.model_copy(update={"what": "lifted", "role": "bolter"})
    say(shift, "entry_notice", lifted, "Day supervisor", over=notice.entry)

    assert shift.entry(MAIN).line_m == Decimal(600)


@pytest.mark.parametrize("who", [None, "Bolter, crew A"])
def test_an_inspection_by_somebody_who_may_not_ends_no_event(
    shift: Shift, who: str | None
) -> None:
    place = shift.place(MAIN).id
    event = report_event(shift.site, place, "vehicle strike", Decimal(600), None)
    inspected = EntryNotice(
        heading=place, what="inspected", from_m=Decimal(0), role=None, lifts=(event.id,)
    )
    shift.wait(hours=1)
    say(shift, "entry_notice", inspected, who)

    assert shift.entry(MAIN).verdict is Verdict.NO_ENTRY


@pytest.mark.parametrize("who", [None, "Bolter, crew A", "Records keeper"])
def test_nothing_is_withdrawn_by_somebody_who_may_not(shift: Shift, who: str | None) -> None:
    place = shift.place(MAIN).id
    notice = say_no_entry(shift.site, place, Decimal(600), None)
    event = report_event(shift.site, place, "seismic", Decimal(590), None)
    before = shift.entry(MAIN)
    void(shift, notice.entry, who)
    void(shift, event.entry, who)

    assert shift.entry(MAIN) == before


def test_a_withdrawal_below_the_signer_s_role_leaves_the_sign_off(shift: Shift) -> None:
    work = shift.look(TWO_MISSING)
    signed = shift.sign(work, "sent back", "Geotechnical engineer")
    with pytest.raises(NotYoursToWithdraw):
        withdraw(shift.site, signed.sign_off.entry.revision, shift.who(), reason="by mistake")
    void(shift, signed.sign_off.entry, "Day supervisor")

    assert shift.entry().verdict is Verdict.REWORK


def test_an_event_stated_by_mistake_is_withdrawn_by_a_supervisor(shift: Shift) -> None:
    before = shift.entry(MAIN)
    event = report_event(shift.site, shift.place(MAIN).id, "seismic", Decimal(590), None)
    withdraw(shift.site, event.entry.revision, shift.who(), reason="wrong heading")

    assert shift.entry(MAIN) == before
    assert event.entry in shift.site.store.ledger.all()


def test_a_lifting_that_is_withdrawn_puts_the_no_entry_back(shift: Shift) -> None:
    place = shift.place(MAIN).id
    notice = say_no_entry(shift.site, place, Decimal(600), None)
    answer(shift.site, notice.id, None, barrier_up=True)
    before = shift.entry(MAIN)
    lifted = lift(shift.site, notice.id, shift.who(), barrier_down=True)
    assert shift.entry(MAIN).state == "entry allowed"
    withdraw(shift.site, lifted.entry.revision, shift.who(), reason="wrong heading")

    assert shift.entry(MAIN) == before


def test_nobody_withdraws_an_enrolment(shift: Shift) -> None:
    ended = revoke(shift.site, person(shift.site, "Bolter, crew A"), site_code=SITE_CODE)
    with pytest.raises(NotYoursToWithdraw):
        withdraw(
            shift.site,
            ended.entry.revision,
            shift.who("Geotechnical engineer"),
            reason="comes back",
        )


def test_a_standard_that_no_engineer_adopted_is_not_in_force(shift: Shift) -> None:
    before = in_force(shift.site, shift.clock())
    milder = before.body.model_copy(update={"revision": 99})
    say(shift, "standard", milder, "Day supervisor")

    assert in_force(shift.site, shift.clock()) == before


def test_a_deviation_that_no_engineer_granted_covers_nothing(shift: Shift) -> None:
    work = shift.look()
    granted = Deviation(
        round=work.round_id,
        check="mesh_lap",
        row=1,
        reason="says who",
        ends_at=shift.clock() + timedelta(hours=1),
    )
    say(shift, "deviation", granted, "Day supervisor")

    assert granted_for(shift.site, work.round_id) == ()


def for_ever(shift: Shift) -> Deviation:
    return Deviation(
        round=new_thing_id(shift.site),
        check="mesh_lap",
        row=1,
        reason="for ever",
        ends_at=shift.clock() + timedelta(days=4000),
    )


def granted_with(shift: Shift, deviation: Deviation, key: SigningKey) -> None:
    """State it in the engineer's name under a key, past every rule of the work floor."""
    engineer = shift.who("Geotechnical engineer").person_id
    named = deviation.model_copy(update={"public_key": key.public_key})
    entry = sign(written(shift.site, "deviation", named, author=engineer), key)
    shift.site.store.ledger.add([entry])


def test_a_deviation_that_the_engineer_did_not_sign_covers_nothing(shift: Shift) -> None:
    deviation = for_ever(shift)
    say(shift, "deviation", deviation, "Geotechnical engineer")
    granted_with(shift, deviation, STRANGER)

    assert granted_for(shift.site, deviation.round) == ()


def test_a_deviation_stands_a_day_whatever_it_says(shift: Shift) -> None:
    granted, engineer = for_ever(shift), "Geotechnical engineer"
    key = key_with(shift.site, person(shift.site, engineer), CODES[engineer])
    granted_with(shift, granted, key)
    found = granted_for(shift.site, granted.round)

    assert [it.ends_at for it in found] == [shift.clock() + timedelta(hours=24)]


def test_a_heading_s_last_row_is_moved_inbye_by_nobody_who_may_not(shift: Shift) -> None:
    place = shift.place(READY)
    before = shift.entry()
    moved = place.body.model_copy(update={"last_row_m": place.body.last_row_m + 20})
    say(shift, "heading", moved, "Day supervisor", over=place.entry)

    assert shift.entry() == before


# --- newer versions -------------------------------------------------------------------------


def newer(shift: Shift, kind: str, heading: str | None, **body: str) -> None:
    said = {**({"heading": heading} if heading else {}), **body}
    last = shift.site.store.ledger.latest_clock(0)
    assert last is not None
    stated = Stated(shift.who().person_id, shift.clock(), "UTC", last)
    entry = new_entry(kind, 2, new_thing_id(shift.site), said, stated)
    shift.site.store.ledger.add([entry])


def test_a_notice_that_only_a_newer_version_can_read_closes_the_heading(shift: Shift) -> None:
    newer(shift, "entry_notice", shift.place(MAIN).id, what="flooded", from_m="600")
    state = shift.entry(MAIN)

    assert (state.line_m, state.verdict) == (Decimal(0), Verdict.NO_ENTRY)
    assert "newer version" in state.because[0]
    assert shift.entry(ORE_N).line_m > 0


def test_an_event_of_no_readable_heading_closes_every_heading(shift: Shift) -> None:
    newer(shift, "event", None, what="gas")

    assert [shift.entry(name).line_m for name in (MAIN, ORE_N)] == [Decimal(0)] * 2


# --- what is kept ---------------------------------------------------------------------------


def test_what_does_not_count_is_kept_and_shown_as_it_is(shift: Shift) -> None:
    known = accept(shift).sign_off
    entry = forged(shift, known)
    shift.site.store.ledger.add([entry])

    assert entry in [it.entry for it in sign_offs(shift.site, known.body.round)]
    assert shift.entry().state == "entry allowed"


@pytest.mark.parametrize("kind", ["heading", "standard", "entry_notice", "event", "sign_off"])
def test_what_the_jobs_state_counts(shift: Shift, kind: str) -> None:
    """The demo was made by the jobs: every entry of it was stated by who may."""
    heads = shift.site.store.ledger.heads(kind)

    assert heads
    assert set(counting(shift.site).heads(Which(kind))) == set(heads)
