"""A round on the way: begun, touched, taken back, left lying, looked at again."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from fieldapp.assess.readings import last_row_m
from fieldapp.work.demo import READY
from fieldapp.work.demo.story import CUDDY, MAIN, ORE_S, TWO_MISSING
from fieldapp.work.demo.walking import Look
from fieldapp.work.record import discard, record, take_in
from fieldapp.work.rounds import (
    AlreadyOpen,
    NoSuchRound,
    begin_round,
    find_round,
    keep_touch,
    look_again,
    open_round,
    open_rounds,
    rounds,
    undo,
)
from fieldapp.work.standard_in_force import adopt, in_force, of_revision
from fieldapp.work.touches import BarredAfter, GroundAnswered
from tests.unit.work.conftest import Shift


def test_the_next_round_begins_at_the_last_row(shift: Shift) -> None:
    before = rounds(shift.site, shift.place().id)[-1].body
    began = shift.look(Look(stops_before="ground")).seen

    assert [began.number, began.joint_m] == [before.number + 1, last_row_m(before)]


def test_it_is_as_long_as_the_one_before(shift: Shift) -> None:
    assert shift.look(Look(stops_before="ground")).seen.rows_planned == 5


@pytest.mark.parametrize("unread", ["ahead 1", "ahead 2", "ahead 5"])
def test_its_old_rows_are_the_last_two_that_somebody_read(shift: Shift, unread: str) -> None:
    before = shift.look(Look(stops_before=unread), on_disk=True)
    record(shift.site, before, shift.who())
    seen = begin_round(shift.site, shift.place().id, shift.who()).seen
    first, last = (row.chainage_m for row in seen.old_rows)

    assert last == seen.joint_m
    assert first < last


def test_its_two_old_rows_are_not_looked_at_yet(shift: Shift) -> None:
    old = shift.look(Look(stops_before="ground")).seen.old_rows

    assert [row.confirmed for row in old] == [None, None]
    assert old[1].chainage_m == last_row_m(rounds(shift.site, shift.place().id)[-1].body)


def test_one_round_a_heading_is_open_at_a_time(shift: Shift) -> None:
    shift.look(Look(stops_before="ground"))
    with pytest.raises(AlreadyOpen):
        begin_round(shift.site, shift.place().id, shift.who())


def test_the_draft_comes_back_at_the_same_place(shift: Shift) -> None:
    work = shift.look(Look(stops_before="count 3"), on_disk=True)
    shift.reopened()
    kept = open_round(shift.site, shift.place().id)

    assert kept is not None
    assert kept.work == work


def test_the_demo_leaves_a_round_half_looked_at(shift: Shift) -> None:
    kept = open_round(shift.site, shift.place(ORE_S).id)

    assert kept is not None
    assert [row.number for row in kept.work.seen.rows] == [1, 2]


def test_undo_goes_back_through_everything(shift: Shift) -> None:
    work = shift.look(TWO_MISSING, on_disk=True)
    steps = [work.seen]
    while work.can_undo:
        work = undo(shift.site, work, shift.clock(), None)
        steps.append(work.seen)

    assert work.seen == work.began
    assert len(steps) == len(work.touches) // 2 + 1


def test_undo_goes_on_after_switching_off(shift: Shift) -> None:
    work = shift.look(TWO_MISSING, on_disk=True)
    half = len(work.touches) // 2
    for _ in range(half):
        work = undo(shift.site, work, shift.clock(), None)
    left = work.seen
    shift.reopened()
    kept = open_round(shift.site, shift.place().id)
    assert kept is not None
    assert kept.work.seen == left
    work = kept.work
    while work.can_undo:
        work = undo(shift.site, work, shift.clock(), None)
    shift.reopened()
    kept = open_round(shift.site, shift.place().id)

    assert kept is not None
    assert kept.work.seen == work.began


def test_taking_back_and_doing_again_comes_to_the_same(shift: Shift) -> None:
    work = shift.look(TWO_MISSING)
    last = work.touches[-1]
    again = undo(shift.site, work, shift.clock(), None)

    assert keep_touch(shift.site, again, last).seen == work.seen


def test_with_nothing_left_undo_changes_nothing(shift: Shift) -> None:
    work = shift.look(Look(stops_before="ground"))

    assert undo(shift.site, work, shift.clock(), None) == work


def test_a_touch_that_was_taken_back_is_kept_all_the_same(shift: Shift) -> None:
    work = begin_round(shift.site, shift.place().id, shift.who())
    work = keep_touch(shift.site, work, BarredAfter(at=shift.clock(), done=True))
    work = undo(shift.site, work, shift.clock(), None)
    shift.reopened()
    kept = open_round(shift.site, shift.place().id)

    assert kept is not None
    assert [touch.what for touch in kept.work.touches] == ["barred after", "undone"]


# --- looked at again ------------------------------------------------------------------------


def test_a_round_looked_at_again_keeps_every_answer(shift: Shift) -> None:
    known = rounds(shift.site, shift.place(MAIN).id)[-1]
    work = look_again(shift.site, known.id, shift.who())

    assert work.seen == known.body


def test_looked_at_again_it_becomes_a_new_revision_of_the_same_round(shift: Shift) -> None:
    known = rounds(shift.site, shift.place(MAIN).id)[-1]
    signed = shift.sign(look_again(shift.site, known.id, shift.who()))

    assert [signed.round.id, signed.round.parents] == [known.id, (known.entry.revision,)]


def test_a_round_is_looked_at_again_as_often_as_needed(shift: Shift) -> None:
    known = rounds(shift.site, shift.place(MAIN).id)[-1]
    for _ in range(3):
        work = look_again(shift.site, known.id, shift.who())
        work = keep_touch(
            shift.site, work, GroundAnswered(at=shift.clock(), condition="as expected")
        )
        shift.sign(work)
        shift.wait(hours=1)

    assert len(shift.site.store.ledger.of_thing(known.id)) == 4


def test_a_draft_looked_at_again_comes_back_too(shift: Shift) -> None:
    known = rounds(shift.site, shift.place(MAIN).id)[-1]
    work = look_again(shift.site, known.id, shift.who())
    work = keep_touch(shift.site, work, BarredAfter(at=shift.clock(), done=False))
    shift.reopened()
    kept = open_round(shift.site, shift.place(MAIN).id)

    assert kept is not None
    assert kept.work == work


# --- taken in from elsewhere --------------------------------------------------------------


def test_what_is_taken_in_and_recorded_is_the_round_of_the_bundle(shift: Shift) -> None:
    work = shift.look()
    bundle = work.bundle(shift.clock())
    discard(shift.site, work)
    kept = record(shift.site, take_in(shift.site, bundle, shift.who()), shift.who())

    assert kept.body == bundle.round
    assert [it.body.number for it in rounds(shift.site, shift.place().id)] == [64, 65]


def test_recording_an_unsigned_round_opens_nothing(shift: Shift) -> None:
    work = shift.look()
    before = shift.entry().line_m
    record(shift.site, work, shift.who())

    assert [shift.entry().line_m, shift.row().last_round] == [before, "Not signed"]


def test_a_round_recorded_before_gets_a_new_revision(shift: Shift) -> None:
    known = rounds(shift.site, shift.place(MAIN).id)[-1]
    work = look_again(shift.site, known.id, shift.who())
    bundle = work.bundle(shift.clock())
    discard(shift.site, work)
    kept = record(shift.site, take_in(shift.site, bundle, None), None)

    assert [kept.id, kept.entry.parents] == [known.id, (known.entry.revision,)]


def test_what_was_discarded_is_gone(shift: Shift) -> None:
    before = len(open_rounds(shift.site))
    discard(shift.site, shift.look())

    assert len(open_rounds(shift.site)) == before


# --- finding, and the standard that was shown -----------------------------------------------


@pytest.mark.parametrize("name", ["4180 Main 87", "4180 MAIN 87", " 4180 main 87 "])
def test_a_round_is_found_by_heading_and_number(shift: Shift, name: str) -> None:
    assert find_round(shift.site, name).body.number == 87


@pytest.mark.parametrize("name", ["", "87", "4180 Main", "4180 Main 88"])
def test_a_round_that_isn_t_recorded_is_not_found(shift: Shift, name: str) -> None:
    with pytest.raises(NoSuchRound):
        find_round(shift.site, name)


def test_a_round_is_judged_by_the_standard_that_was_shown(shift: Shift) -> None:
    """A revision adopted while somebody walks doesn't change what they walk by."""
    work = shift.look(Look(stops_before="count 1"), on_disk=True)
    old = in_force(shift.site, shift.clock()).body
    newer = old.model_copy(update={"revision": old.revision + 1, "effective_from": shift.clock()})
    adopt(shift.site, newer, shift.who("Geotechnical engineer"))
    shift.wait(minutes=1)
    kept = open_round(shift.site, shift.place().id)
    assert kept is not None
    signed = shift.sign(kept.work, "sent back")
    by = of_revision(shift.site, signed.sign_off.body.standard)

    assert in_force(shift.site, shift.clock()).body.revision == old.revision + 1
    assert by is not None
    assert by.body.revision == old.revision
    assert work.standard == kept.work.standard


def test_the_round_after_a_heading_s_first_continues_its_numbers(shift: Shift) -> None:
    work = begin_round(shift.site, shift.place(CUDDY).id, None)

    assert [work.seen.number, work.seen.rows_planned] == [11, 2]


def test_rows_are_planned_anew_by_whoever_begins(shift: Shift) -> None:
    work = begin_round(shift.site, shift.place(READY).id, shift.who(), rows=3)

    assert work.seen.rows_planned == 3


def test_the_last_row_is_the_joint_and_every_row_ahead_of_it(shift: Shift) -> None:
    seen = shift.look().seen
    ahead = [row.ahead_of_row_before for row in seen.rows]

    assert last_row_m(seen) == seen.joint_m + sum(
        (it.value_m for it in ahead if it is not None), Decimal(0)
    )


def test_a_draft_says_since_when_it_is_open(shift: Shift) -> None:
    began_at = shift.clock()
    shift.look(Look(stops_before="ground"))
    shift.wait(hours=2)
    kept = open_round(shift.site, shift.place().id)

    assert kept is not None
    assert kept.since == began_at
    assert replace(kept, begun_by=None).since + timedelta(hours=2) == shift.clock()
