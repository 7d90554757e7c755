"""Revised on one tablet and withdrawn on another: both are shown, the stricter holds meanwhile."""

from decimal import Decimal
from itertools import permutations

import pytest

from fieldapp.work.authority import Counting, Which, counting
from fieldapp.work.demo.story import MAIN
from fieldapp.work.notices import answer, lift, notices, say_no_entry
from fieldapp.work.people import person
from fieldapp.work.rounds import look_again, rounds
from fieldapp.work.share.disputes import (
    REVISED,
    STANDS,
    Difference,
    Dispute,
    NotYoursToSettle,
    disputes,
    settle,
)
from fieldapp.work.share.sides import side_by_side
from fieldapp.work.withdrawals import withdraw
from fieldapp.work.writing import stated_now, written
from schemas.bodies.withdrawal import Withdrawal
from schemas.entry import Entry, corrected
from schemas.findings import Verdict
from tests.stand_ins import ListLedger
from tests.unit.work.conftest import Shift

ENGINEER, SUPERVISOR = "Geotechnical engineer", "Night supervisor"
WHY = "the barrier was never up"


def revised(shift: Shift, entry: Entry, by: str, **changes: str) -> Entry:
    """Write a revision as another tablet does, without keeping it here."""
    return corrected(entry, changes, stated_now(shift.site, person(shift.site, by).id))


def withdrawn(shift: Shift, entry: Entry, by: str, reason: str = WHY) -> Entry:
    """Write a withdrawal as another tablet does, without keeping it here."""
    body = Withdrawal(thing=entry.id, revision=entry.revision, reason=reason)
    return written(shift.site, "withdrawal", body, author=person(shift.site, by).id)


@pytest.fixture
def lifted(shift: Shift) -> tuple[Entry, Entry, Entry]:
    """A no entry that was lifted; the lifting told more of here, and withdrawn there."""
    said = say_no_entry(shift.site, shift.place().id, Decimal("200.00"), None)
    first = lift(shift.site, said.id, shift.who(), barrier_down=True).entry
    more = revised(shift, first, SUPERVISOR, reason="looked again: dry")
    void = withdrawn(shift, first, ENGINEER)
    shift.site.store.ledger.add([more, void])
    return said.entry, more, void


@pytest.fixture
def looked_again(shift: Shift) -> Entry:
    """An accepted round that is looked at again and signed here, and withdrawn there."""
    known = rounds(shift.site, shift.place(MAIN).id)[-1]
    signed = shift.sign(look_again(shift.site, known.id, shift.who())).round
    shift.site.store.ledger.add([withdrawn(shift, known.entry, ENGINEER, "another heading's")])
    return signed


def test_what_was_lifted_and_the_lifting_withdrawn_is_lifted_for_nobody_until_it_is_settled(
    shift: Shift, lifted: tuple[Entry, Entry, Entry]
) -> None:
    said, more, void = lifted

    assert [it.entry for it in notices(shift.site, shift.place().id)] == [said]
    assert shift.entry().line_m == Decimal("200.00")
    assert disputes(shift.site) == (Dispute(more, void, said),)


def test_both_sides_are_shown_with_what_was_revised_and_why_it_was_withdrawn(
    shift: Shift,
    lifted: tuple[Entry, Entry, Entry],  # noqa: ARG001
) -> None:
    (found,) = side_by_side(shift.site)

    assert (found.left.who, found.right.who) == (SUPERVISOR, ENGINEER)
    differences = found.dispute.differences
    assert differences[0] == Difference(STANDS, REVISED, f"withdrawn: {WHY}")
    assert Difference("what", "lifted", "no entry") in differences
    assert Difference("lifts 1", f"…{found.dispute.left.id[-8:]}", "–") in differences


def test_the_revision_stands_once_somebody_as_high_as_who_withdrew_says_so(
    shift: Shift, lifted: tuple[Entry, Entry, Entry]
) -> None:
    _, more, void = lifted
    (found,) = disputes(shift.site)
    with pytest.raises(NotYoursToSettle):
        settle(shift.site, found, more, shift.who(SUPERVISOR))
    assert disputes(shift.site) == (found,)

    made = settle(shift.site, found, more, shift.who(ENGINEER))

    assert made.parents == (more.revision, void.revision)
    assert disputes(shift.site) == ()
    assert notices(shift.site, shift.place().id) == ()


def test_the_withdrawal_stands_once_somebody_says_so(
    shift: Shift, lifted: tuple[Entry, Entry, Entry]
) -> None:
    said, more, void = lifted
    (found,) = disputes(shift.site)
    settle(shift.site, found, void, shift.who(ENGINEER))

    assert disputes(shift.site) == ()
    assert more.revision in counting(shift.site).withdrawn
    assert [it.entry for it in notices(shift.site, shift.place().id)] == [said]


def test_a_no_entry_that_was_withdrawn_and_told_more_of_still_holds(shift: Shift) -> None:
    """Here the revision is the stricter side: without it there is nothing."""
    said = say_no_entry(shift.site, shift.place().id, Decimal("200.00"), None).entry
    more = revised(shift, said, SUPERVISOR, reason="the back is dripping")
    shift.site.store.ledger.add([more, withdrawn(shift, said, ENGINEER)])

    assert shift.entry().line_m == Decimal("200.00")
    assert disputes(shift.site)[0].without is None


def test_a_round_that_was_accepted_and_withdrawn_lets_nobody_in(
    shift: Shift, looked_again: Entry
) -> None:
    found, row = shift.entry(MAIN), shift.row(MAIN)

    assert (found.line_m, found.verdict) == (
        Decimal(str(looked_again.body["joint_m"])),
        Verdict.NO_ENTRY,
    )
    assert "a person settles it" in found.because[0]
    assert (row.last_round, row.detail.partition(", ")[2]) == ("In dispute", "withdrawn too")


def test_looking_at_the_round_again_settles_it(shift: Shift, looked_again: Entry) -> None:
    shift.wait(minutes=1)
    work = look_again(shift.site, looked_again.id, shift.who(ENGINEER))
    shift.sign(work, who=ENGINEER)

    assert disputes(shift.site) == ()
    assert shift.entry(MAIN).state == "entry allowed"


def test_whoever_heard_of_neither_side_settles_nothing_by_saying_more(
    shift: Shift, lifted: tuple[Entry, Entry, Entry]
) -> None:
    said, _, _ = lifted
    answer(shift.site, said.id, None, reason="dripping still")

    assert len(disputes(shift.site)) == 1
    assert shift.entry().line_m == Decimal("200.00")


def test_withdrawing_what_was_revised_too_settles_it(
    shift: Shift, lifted: tuple[Entry, Entry, Entry]
) -> None:
    _, more, _ = lifted
    withdraw(shift.site, more.revision, shift.who(ENGINEER), reason="not dry at all")

    assert disputes(shift.site) == ()


def test_the_same_stands_whatever_the_order_in_which_both_sides_arrive(
    shift: Shift, lifted: tuple[Entry, Entry, Entry]
) -> None:
    said, more, void = lifted
    first = shift.site.store.ledger.get(more.parents[0])
    assert first
    (found,) = disputes(shift.site)
    made = settle(shift.site, found, more, shift.who(ENGINEER))
    four = (first, more, void, made)
    others = [it for it in shift.site.store.ledger.all() if it not in four]

    for arrived in range(len(four) + 1):
        for some in permutations(four, arrived):
            heads, contested = stands(shift, [*others, *some], said)
            again = stands(shift, [*sorted(some, key=four.index), *others], said)
            assert (heads, contested) == again
            if {first, more, void} <= set(some):
                assert contested == (() if made in some else ((more, (void,), (said,)),))
                assert heads == ({made} if made in some else {said})


def stands(shift: Shift, entries: list[Entry], said: Entry) -> tuple[set[Entry], object]:
    ledger = ListLedger()
    ledger.add(entries)
    known = Counting(ledger, shift.site.mine.site_key)
    contested = known.contested.get(said.id, ())
    told = tuple((it.revision, it.withdrawals, it.without) for it in contested)
    return set(known.heads(Which("entry_notice", thing=said.id))), told
