"""Chainages measured anew: what was read stays as read, and everything lies where it is today."""

from collections.abc import Mapping
from decimal import Decimal

import pytest

from fieldapp.assess import assess
from fieldapp.assess.entry.state import EntryState
from fieldapp.assess.readings import last_row_m
from fieldapp.work.damage.stating import record_damage
from fieldapp.work.demo.story import READY
from fieldapp.work.events import report_event
from fieldapp.work.heading_record import gathered_again, heading_record
from fieldapp.work.judging import judged_bundle
from fieldapp.work.known import current
from fieldapp.work.notices import answer, notices, say_no_entry
from fieldapp.work.rechain import RechainingRefused, rechain, what_moves
from fieldapp.work.roles import NotYours
from fieldapp.work.round_ends import ends_m
from fieldapp.work.rounds import begin_round, last_round, open_round, rounds
from fieldapp.work.share.disputes import disputes, settle
from fieldapp.work.sign import assessment_hash
from fieldapp.work.signed import deciding
from fieldapp.work.writing import state
from schemas.bodies.damage import Damage
from schemas.bodies.entry_notice import EntryNotice
from tests.damages import damage
from tests.unit.work.conftest import Shift

BY_M = Decimal("1.4")
ENTERED_M = Decimal("298.60")
"""Where the heading's last row was when it was entered: the joint of its first round."""
ENGINEER = "Geotechnical engineer"


def chained_anew(shift: Shift, from_m: Decimal, by_m: Decimal = BY_M, name: str = READY) -> None:
    shift.wait(minutes=1)
    rechain(shift.site, what_moves(shift.site, name, from_m, by_m, shift.who(ENGINEER)))
    shift.wait(minutes=1)


def torn_at(shift: Shift, at_m: str) -> Damage:
    said = {"heading": shift.place().id, "seen_at": shift.clock(), "chainage_m": at_m}
    return Damage.model_validate(damage().model_dump() | said)


def joint_m(shift: Shift, name: str = READY) -> Decimal:
    """Give the joint of a heading's last round."""
    last = last_round(shift.site, shift.place(name).id)
    assert last is not None
    return last.body.joint_m


def lines(state: EntryState) -> list[Decimal]:
    return [state.line_m, state.face_m]


def test_entry_goes_as_far_as_before_by_the_new_chainages(shift: Shift) -> None:
    shift.sign(shift.look())
    before = shift.entry()
    chained_anew(shift, joint_m(shift))
    after = shift.entry()

    assert lines(after) == [it + BY_M for it in lines(before)]
    assert [after.state, after.because] == [before.state, before.because]


def test_ground_outbye_of_where_chainages_begin_to_be_others_stays(shift: Shift) -> None:
    shift.sign(shift.look())
    place = shift.place()
    before = {it.number: it for it in heading_record(shift.site, place.id).rounds}
    chained_anew(shift, joint_m(shift))
    after = {it.number: it for it in heading_record(shift.site, place.id).rounds}
    newest = max(before)

    assert after[newest].joint_m == before[newest].joint_m + BY_M
    assert after[newest - 1].joint_m == before[newest - 1].joint_m
    assert after[newest - 1].last_row_m == after[newest].joint_m, "one row, one chainage"


def test_what_withdraws_entry_withdraws_it_at_the_same_rock(shift: Shift) -> None:
    """An event with its radius, a notice, a barrier that is put up later, and damage."""
    place, nobody = shift.place().id, None
    report_event(shift.site, place, "seismic", Decimal(330), nobody)
    notice = say_no_entry(shift.site, place, Decimal(310), nobody)
    record_damage(shift.site, torn_at(shift, "305"), nobody)
    before = heading_record(shift.site, place)
    chained_anew(shift, ENTERED_M)
    answer(shift.site, notice.id, nobody, barrier_up=True)
    after = heading_record(shift.site, place)

    assert [it.event.chainage_m for it in after.events] == [
        it.event.chainage_m + BY_M * (it.event.chainage_m >= ENTERED_M) for it in before.events
    ]
    assert [it.notice.from_m for it in after.notices] == [Decimal("311.4")], (
        "moved once, not twice"
    )
    assert [it.seen[0].damage.chainage_m for it in after.damages] == [Decimal("306.4")]


def test_what_was_read_stands_beside_where_it_is_today(shift: Shift) -> None:
    kept = record_damage(shift.site, torn_at(shift, "305"), None)
    chained_anew(shift, ENTERED_M)
    (known,) = (
        it
        for it in current(shift.site, "damage", Damage, heading=shift.place().id)
        if it.id == kept.id
    )

    assert [known.read.chainage_m, known.body.chainage_m] == [Decimal(305), Decimal("306.4")]
    assert known.entry.line == kept.entry.line, "not a byte of it is another"


def test_what_is_stated_since_is_where_it_is_said_to_be(shift: Shift) -> None:
    chained_anew(shift, ENTERED_M)
    notice = say_no_entry(shift.site, shift.place().id, Decimal(310), None)
    chained_anew(shift, ENTERED_M + BY_M, Decimal("0.5"))

    assert notice.body.from_m == Decimal(310)
    assert [it.body.from_m for it in notices(shift.site, shift.place().id)] == [Decimal("310.5")]


def test_a_round_that_was_judged_is_judged_alike_for_ever(shift: Shift) -> None:
    """Also where only the round after the one before it has moved."""
    shift.sign(shift.look())
    chained_anew(shift, joint_m(shift))
    shift.sign(shift.look())
    chained_anew(shift, ENTERED_M, Decimal("0.5"))
    for it in rounds(shift.site, shift.place().id):
        signed = deciding(shift.site, it)
        assert signed is not None
        again = assess(judged_bundle(shift.site, it, signed, shift.clock()))

        assert assessment_hash(again) == signed.body.assessment


def test_the_next_round_begins_at_the_row_by_its_new_chainage(shift: Shift) -> None:
    before = last_round(shift.site, shift.place().id)
    assert before is not None
    chained_anew(shift, ends_m(before))
    work = begin_round(shift.site, shift.place().id, shift.who())

    assert work.seen.joint_m == ends_m(before) + BY_M
    assert work.seen.old_rows[-1].chainage_m == work.seen.joint_m
    assert work.previous is not None


def test_a_round_begun_before_goes_on_by_the_chainages_it_was_begun_by(shift: Shift) -> None:
    """Its joint was the tablet's word: that it is finished later makes it no other joint."""
    work = shift.look(on_disk=True)
    chained_anew(shift, joint_m(shift))
    going_on = open_round(shift.site, shift.place().id)
    assert going_on is not None
    assert going_on.work.seen.joint_m == work.seen.joint_m
    assert going_on.work.previous == work.previous
    shift.sign(going_on.work)
    kept = last_round(shift.site, shift.place().id)
    assert kept is not None

    assert kept.read.joint_m == work.seen.joint_m
    assert shift.entry().line_m == ends_m(kept) == last_row_m(kept.read) + BY_M


def test_two_re_chainings_follow_each_other(shift: Shift) -> None:
    shift.sign(shift.look())
    before, from_m = shift.entry(), joint_m(shift)
    chained_anew(shift, from_m)
    chained_anew(shift, from_m + BY_M, Decimal("-0.3"))

    assert shift.entry().line_m == before.line_m + BY_M - Decimal("0.3")
    assert gathered_again(shift.site, shift.place().id)


def test_only_an_engineer_gives_a_heading_new_chainages(shift: Shift) -> None:
    with pytest.raises(NotYours):
        what_moves(shift.site, READY, ENTERED_M, BY_M, shift.who())


def refused(shift: Shift, from_m: object, by_m: str) -> str:
    with pytest.raises(RechainingRefused) as error:
        what_moves(shift.site, READY, Decimal(str(from_m)), Decimal(by_m), shift.who(ENGINEER))
    return error.value.reason


def test_the_order_of_metres_is_never_turned_round(shift: Shift) -> None:
    shift.sign(shift.look())
    from_m = joint_m(shift)

    assert "would no longer lie outbye" in refused(shift, from_m, "-1.4")
    assert "before the origin" in refused(shift, "2.5", "-3.2")
    chained_anew(shift, from_m, Decimal("-0.3"))


def test_a_round_is_not_torn_apart(shift: Shift) -> None:
    said = "name its joint at 298.60 m or its last row at 303.18 m"

    assert said in refused(shift, ENTERED_M + 1, "1.4")


def test_what_moves_nothing_is_a_slip(shift: Shift) -> None:
    assert refused(shift, ENTERED_M, "0") == "by 0 m nothing is moved"
    assert refused(shift, "900", "1") == "nothing is recorded from 900 m inbye"
    assert refused(shift, ENTERED_M, "61") == "chainages move by 60 m at most"


def test_one_re_survey_never_moves_the_entry_line_twice(shift: Shift) -> None:
    shift.sign(shift.look())
    chained_anew(shift, ENTERED_M)
    once = shift.entry()

    assert "said just that" in refused(shift, ENTERED_M, "1.40")
    assert lines(shift.entry()) == lines(once)
    chained_anew(shift, ENTERED_M, Decimal("0.2"))


def test_a_mistaken_re_survey_at_a_joint_is_taken_back_by_its_reverse(shift: Shift) -> None:
    shift.sign(shift.look())
    before, from_m = shift.entry(), joint_m(shift)
    chained_anew(shift, from_m)
    chained_anew(shift, from_m + BY_M, -BY_M)

    assert lines(shift.entry()) == lines(before)


def test_it_is_told_beforehand_what_moves(shift: Shift) -> None:
    record_damage(shift.site, torn_at(shift, "305"), None)
    before = shift.entry()
    moves = what_moves(shift.site, READY, joint_m(shift), BY_M, shift.who(ENGINEER))

    assert shift.entry() == before, "nothing is stated yet"
    assert lines(moves.after) == [it + BY_M for it in lines(before)]
    assert dict(moves.moved)["damage"] == 1


def test_a_round_heard_of_later_that_would_be_torn_holds_entry_at_its_joint(shift: Shift) -> None:
    """The engineer's tablet didn't know it: nothing is lost, and entry waits for a word."""
    shift.sign(shift.look())
    before = last_round(shift.site, shift.place().id)
    assert before is not None
    within_m = before.body.joint_m + 1
    heading_stated(shift, {"from_m": str(within_m), "by_m": str(BY_M), "at": shift.clock()})
    after = shift.entry()

    assert after.line_m == before.body.joint_m
    assert any("within round 65: an engineer says" in it for it in after.because)


@pytest.mark.parametrize(("by_m", "from_m"), [("1.4", "310"), ("-0.3", "309.7")])
def test_a_tablet_that_had_not_heard_of_it_may_have_meant_either_place(
    shift: Shift, by_m: str, from_m: str
) -> None:
    """By the old marks 310 m lies 1.4 m farther inbye today, by the new ones at 310 m."""
    chained_anew(shift, ENTERED_M, Decimal(by_m))
    said = {"heading": shift.place().id, "what": "no entry", "from_m": "310", "chained_at": None}
    state(shift.site, "entry_notice", EntryNotice.model_validate(said), author=None)
    (notice,) = notices(shift.site, shift.place().id)

    assert str(notice.body.from_m) == from_m
    marks = f"by old marks or new: taken {abs(Decimal(by_m))} m outbye"
    assert any(it.endswith(marks) for it in shift.entry().because)


def test_two_engineers_at_once_leave_what_is_stricter(shift: Shift) -> None:
    shift.sign(shift.look())
    before, stated = shift.entry(), shift.place()
    for by_m in ("1.4", "-0.3"):
        said = {"from_m": str(ENTERED_M), "by_m": by_m, "at": shift.clock()}
        heading_stated(shift, said, parents=(stated.entry.revision,))

    assert shift.entry().line_m == before.line_m - Decimal("0.3")


def test_a_notice_that_two_people_said_more_of_is_settled_where_it_was(shift: Shift) -> None:
    """Settled after the re-survey, it is still what was read before."""
    notice = say_no_entry(shift.site, shift.place().id, Decimal(310), None)
    for reason in ("water", "noise"):
        said = notice.body.model_copy(update={"reason": reason})
        parents = (notice.entry.revision,)
        state(shift.site, "entry_notice", said, author=None, thing_id=notice.id, parents=parents)
    chained_anew(shift, ENTERED_M)
    (dispute,) = (it for it in disputes(shift.site) if it.kind == "entry_notice")
    settle(shift.site, dispute, dispute.left, shift.who(ENGINEER))
    (settled,) = notices(shift.site, shift.place().id)

    assert [settled.body.from_m, settled.read.from_m] == [Decimal("311.4"), Decimal(310)]


def heading_stated(
    shift: Shift, said: Mapping[str, object], parents: tuple[str, ...] = ()
) -> None:
    """State a heading's new chainages as another tablet did, whatever is known here."""
    place = shift.place()
    body = type(place.body).model_validate(place.read.model_dump() | {"rechained": [said]})
    state(
        shift.site,
        "heading",
        body,
        author=shift.who(ENGINEER).person_id,
        thing_id=place.id,
        parents=parents or (place.entry.revision,),
    )
