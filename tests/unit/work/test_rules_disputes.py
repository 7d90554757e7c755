"""Two tablets, two opinions: both are kept, the stricter holds, a person settles it."""

from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from shutil import copytree

import pytest

from fieldapp.start import open_site
from fieldapp.work.authority import counting
from fieldapp.work.demo.story import MAIN, READY
from fieldapp.work.demo.walking import Look
from fieldapp.work.notices import answer, lift, say_no_entry
from fieldapp.work.record import record
from fieldapp.work.rounds import keep_touch, look_again, rounds
from fieldapp.work.share.disputes import Difference, NotYoursToSettle, disputes, settle
from fieldapp.work.share.sides import found_apart, side_by_side
from fieldapp.work.standard_in_force import adopt, in_force
from fieldapp.work.touches import BoltMarked
from fieldapp.work.waiting import waiting
from fieldapp.work.withdrawals import withdraw
from fieldapp.work.writing import state
from schemas.bodies.round import BoltSeen
from schemas.findings import Verdict
from tests.unit.work.conftest import Shift


@pytest.fixture
def other(shift: Shift, tmp_path: Path) -> Shift:
    """A second tablet that knows what the first one knows, and goes its own way."""
    shift.site.store.close()
    home = tmp_path / "other"
    copytree(shift.home, home)
    shift.reopened()
    return Shift(home, shift.clock, open_site(home, now=shift.clock))


def meet(one: Shift, two: Shift) -> None:
    """Let both tablets know what either knows."""
    first, second = (list(it.site.store.ledger.all()) for it in (one, two))
    one.site.store.ledger.add(second)
    two.site.store.ledger.add(first)
    two.site.store.close()


def test_a_round_that_two_supervisors_began_apart_counts_as_the_stricter_says(
    shift: Shift, other: Shift
) -> None:
    """Each tablet began round 65 by itself: two things of one number."""
    mine, theirs = shift.look(), other.look()
    assert mine.round_id != theirs.round_id
    other.sign(theirs, "sent back", "Night supervisor")
    shift.wait(minutes=1)
    shift.sign(mine)
    meet(shift, other)
    found = shift.entry()

    assert (found.line_m, found.verdict) == (mine.seen.joint_m, Verdict.NO_ENTRY)
    assert "a person settles it" in found.because[0]
    assert shift.row().last_round == "In dispute"
    assert waiting(shift.site, shift.place(), None).what == "look again", "and no next round"


def test_two_acceptances_of_one_round_reach_as_far_as_the_shorter(
    shift: Shift, other: Shift
) -> None:
    shorter = Look(answers={"ahead 5": Decimal("0.85")})
    mine, theirs = shift.look(), other.look(shorter)
    one, two = shift.sign(mine), other.sign(theirs, "accepted", "Night supervisor")
    lines = [it.sign_off.body.entry_line_m for it in (one, two)]
    meet(shift, other)

    assert lines[0] != lines[1]
    assert shift.entry().line_m == min(lines)


def test_metres_are_signed_once_however_many_recorded_them(shift: Shift, other: Shift) -> None:
    before = shift.entry().coverage.signed_m
    mine, theirs = shift.look(), other.look()
    shift.sign(mine)
    once = shift.entry().coverage.signed_m
    other.sign(theirs, "accepted", "Night supervisor")
    meet(shift, other)

    assert before < once == shift.entry().coverage.signed_m


def test_a_round_accepted_here_and_changed_there_is_in_dispute(shift: Shift, other: Shift) -> None:
    known = rounds(shift.site, shift.place(MAIN).id)[-1]
    mine = look_again(shift.site, known.id, shift.who())
    theirs = look_again(other.site, known.id, other.who())
    record(other.site, theirs, other.who("Night supervisor"))
    shift.wait(minutes=1)
    shift.sign(mine)
    meet(shift, other)
    found = shift.entry(MAIN)

    assert (found.line_m, found.verdict) == (known.body.joint_m, Verdict.NO_ENTRY)
    assert shift.row(MAIN).last_round == "In dispute"
    assert waiting(shift.site, shift.place(MAIN), None).what == "look again", "and no next round"


def test_a_round_changed_on_two_tablets_and_signed_on_none_is_in_dispute(
    shift: Shift, other: Shift
) -> None:
    known = rounds(shift.site, shift.place(MAIN).id)[-1]
    record(shift.site, look_again(shift.site, known.id, shift.who()), shift.who())
    theirs = look_again(other.site, known.id, other.who())
    record(other.site, theirs, other.who("Night supervisor"))
    meet(shift, other)

    assert shift.row(MAIN).last_round == "In dispute"
    assert waiting(shift.site, shift.place(MAIN), None).what == "look again", "and no next round"
    assert shift.entry(MAIN).line_m <= known.body.joint_m


def test_looking_again_settles_what_was_revised_twice(shift: Shift, other: Shift) -> None:
    known = rounds(shift.site, shift.place(MAIN).id)[-1]
    shift.sign(look_again(shift.site, known.id, shift.who()))
    other.sign(look_again(other.site, known.id, other.who()), "sent back", "Night supervisor")
    meet(shift, other)
    shift.wait(minutes=1)
    shift.sign(look_again(shift.site, known.id, shift.who()))

    assert shift.entry(MAIN).state == "entry allowed"


def test_two_decisions_on_a_round_begun_twice_stand_side_by_side_until_one_is_chosen(
    shift: Shift, other: Shift
) -> None:
    mine, theirs = shift.look(), other.look()
    one = shift.sign(mine)
    other.wait(minutes=1)
    there = other.sign(theirs, "sent back", "Night supervisor")
    meet(shift, other)
    (found,) = side_by_side(shift.site)

    assert found.what == f"decision on round {mine.seen.number}, {READY}"
    assert {found.left.who, found.right.who} == {"Day supervisor", "Night supervisor"}
    assert found.dispute.differences[0] == Difference("decision", "accepted", "sent back")
    assert not any("signature" in it.where for it in found.dispute.differences)
    settle(shift.site, found.dispute, one.sign_off.entry, shift.who("Night supervisor"))
    assert disputes(shift.site) == ()
    assert shift.entry().line_m == one.sign_off.body.entry_line_m
    gone = {it.revision for it in (there.sign_off.entry, there.round)}
    assert gone <= counting(shift.site).withdrawn


def test_whoever_settles_two_decisions_sees_what_each_round_was_found_to_be(
    shift: Shift, other: Shift
) -> None:
    """The decisions alone say that two differ, never why: the check that differs leads."""
    mine = shift.look()
    theirs = other.look(Look(answers={"ahead 5": Decimal("1.45")}))
    shift.sign(mine)
    other.wait(minutes=1)
    other.sign(theirs, "sent back", "Night supervisor")
    meet(shift, other)
    (found,) = disputes(shift.site)
    apart = {it.title: (it, there) for it, there in found_apart(shift.site, found) if it and there}

    good, wide = apart["Row spacing"]
    assert (good.verdict, wide.verdict) == (Verdict.ACCEPT, Verdict.REWORK)
    assert wide.measured == "1.450"


def test_the_stricter_of_two_decisions_may_be_chosen_too(shift: Shift, other: Shift) -> None:
    mine, theirs = shift.look(), other.look()
    shift.sign(mine)
    there = other.sign(theirs, "sent back", "Night supervisor")
    meet(shift, other)
    (found,) = disputes(shift.site)
    settle(shift.site, found, there.sign_off.entry, shift.who())

    assert disputes(shift.site) == ()
    assert shift.row().last_round == "Sent back"
    assert shift.entry().line_m == there.sign_off.body.entry_line_m


def test_a_supervisor_does_not_choose_against_an_engineers_decision(
    shift: Shift, other: Shift
) -> None:
    mine, theirs = shift.look(), other.look()
    one = shift.sign(mine)
    other.sign(theirs, "sent back", "Geotechnical engineer")
    meet(shift, other)
    (found,) = disputes(shift.site)

    with pytest.raises(NotYoursToSettle):
        settle(shift.site, found, one.sign_off.entry, shift.who())
    assert disputes(shift.site) == (found,)
    settle(shift.site, found, one.sign_off.entry, shift.who("Geotechnical engineer"))
    assert shift.entry().line_m == one.sign_off.body.entry_line_m


def test_withdrawing_one_of_two_settles_a_round_begun_twice(shift: Shift, other: Shift) -> None:
    mine, theirs = shift.look(), other.look()
    shift.sign(mine)
    there = other.sign(theirs, "sent back", "Night supervisor")
    meet(shift, other)
    for entry in (there.sign_off.entry, there.round):
        withdraw(shift.site, entry.revision, shift.who(), reason="begun twice by mistake")

    assert shift.entry().state == "entry allowed"


def test_a_no_entry_lifted_here_and_told_more_of_there_stands(shift: Shift, other: Shift) -> None:
    notice = say_no_entry(shift.site, shift.place(MAIN).id, Decimal(600), None)
    other.site.store.ledger.add([notice.entry])
    lift(shift.site, notice.id, shift.who(), barrier_down=True)
    answer(other.site, notice.id, None, reason="the back is dripping")
    meet(shift, other)

    assert shift.entry(MAIN).line_m == Decimal(600)


def test_of_two_revisions_of_a_heading_the_stricter_facts_hold(shift: Shift, other: Shift) -> None:
    """Surveyed by the keeper here and the engineer there; two rows wait beside a firing."""
    place = shift.place()
    nearer = place.body.model_copy(update={"last_row_m": Decimal("201.8")})
    way_out = place.body.model_copy(update={"other_way_out": True})
    for tablet, body, who in (
        (shift, way_out, "Records keeper"),
        (other, nearer, "Geotechnical engineer"),
    ):
        state(
            tablet.site,
            "heading",
            body,
            author=tablet.who(who).person_id,
            thing_id=place.id,
            parents=(place.entry.revision,),
        )
    meet(shift, other)
    found = shift.entry()

    assert (found.line_m, found.cut_off) == (Decimal("200.0"), True)


def test_a_revision_adopted_twice_is_one_and_the_same_on_every_tablet(
    shift: Shift, other: Shift
) -> None:
    now = in_force(shift.site, shift.clock()).body
    for tablet, title in ((shift, "one wording"), (other, "another wording")):
        revised = now.model_copy(update={"revision": now.revision + 1, "title": title})
        adopt(tablet.site, revised, tablet.who("Geotechnical engineer"))
    first, second = (list(it.site.store.ledger.all()) for it in (shift, other))
    shift.site.store.ledger.add(second)
    other.site.store.ledger.add(first)

    assert in_force(shift.site, shift.clock()) == in_force(other.site, shift.clock())
    other.site.store.close()


# --- looking again ------------------------------------------------------------------------------


def test_an_accepted_round_counts_as_it_was_until_somebody_changes_it(shift: Shift) -> None:
    known = rounds(shift.site, shift.place(MAIN).id)[-1]
    work = look_again(shift.site, known.id, shift.who())
    untouched = shift.entry(MAIN)
    loose = BoltSeen(position=4, state="present", plate="loose")
    keep_touch(shift.site, work, BoltMarked(at=shift.clock(), row=2, bolt=loose))
    touched = shift.entry(MAIN)

    assert untouched.state == "entry allowed"
    assert (touched.line_m, touched.verdict) == (known.body.joint_m, Verdict.NOT_LOOKED_AT)
    assert "being looked at again" in touched.because[0]


def test_a_round_signed_before_the_one_outbye_of_it_opens_nothing(shift: Shift) -> None:
    """Round 64 waits unsigned; whoever signs round 65 opens neither."""
    outer = shift.look(on_disk=True)
    record(shift.site, outer, shift.who())
    held = shift.entry().line_m
    inner = replace(shift.look(), previous=outer.seen)
    shift.sign(inner)

    assert inner.seen.joint_m > outer.seen.joint_m
    assert shift.entry().line_m <= held
    assert shift.entry(READY).verdict.gravity >= Verdict.NOT_LOOKED_AT.gravity


def test_several_rounds_unsigned_in_a_row_hold_the_line_at_the_outermost(shift: Shift) -> None:
    outer = shift.look(on_disk=True)
    record(shift.site, outer, shift.who())
    first = shift.entry().line_m
    for _ in range(2):
        record(shift.site, shift.look(on_disk=True), shift.who())

    assert shift.entry().line_m == first
