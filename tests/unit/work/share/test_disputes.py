"""What two tablets state differently is shown side by side, and a person settles it."""

from decimal import Decimal

import pytest

from fieldapp.work.demo.story import MAIN
from fieldapp.work.entry import entry
from fieldapp.work.headings import heading
from fieldapp.work.notices import say_no_entry
from fieldapp.work.people import person
from fieldapp.work.roles import NotYours
from fieldapp.work.share.disputes import Difference, NotYoursToSettle, disputes, settle
from fieldapp.work.share.sides import HERE, side_by_side
from fieldapp.work.writing import stated_now
from schemas.entry import Entry, corrected
from tests.unit.work.conftest import Shift
from tests.unit.work.rehab.test_steps import done, verified


def revised(shift: Shift, entry: Entry, by: str, /, **changes: str) -> Entry:
    """State a revision as another tablet does that has not heard of ours."""
    author = person(shift.site, by).id
    made = corrected(entry, changes, stated_now(shift.site, author))
    shift.site.store.ledger.add([made])
    return made


@pytest.fixture
def two(shift: Shift) -> tuple[Entry, Entry]:
    """A heading whose other name was stated at once on two tablets."""
    first = shift.place().entry
    return (
        revised(shift, first, "Geotechnical engineer", name="North drive"),
        revised(shift, first, "Geotechnical engineer", name="Drive north"),
    )


def test_two_revisions_stand_side_by_side_with_their_difference(
    shift: Shift, two: tuple[Entry, Entry]
) -> None:
    (found,) = disputes(shift.site)

    assert (found.left, found.right) == two
    assert found.differences == (Difference("name", "North drive", "Drive north"),)


def test_whoever_settles_it_states_a_revision_that_follows_both(
    shift: Shift, two: tuple[Entry, Entry]
) -> None:
    (found,) = disputes(shift.site)
    made = settle(shift.site, found, two[1], shift.who("Geotechnical engineer"))

    assert set(made.parents) == {it.revision for it in two}
    assert disputes(shift.site) == ()
    assert heading(shift.site, two[0].id).body.name == "Drive north"


def test_three_sides_are_settled_two_at_a_time(shift: Shift, two: tuple[Entry, Entry]) -> None:
    before = shift.site.store.ledger.get(two[0].parents[0])
    assert before
    revised(shift, before, "Geotechnical engineer", name="Third")
    engineer = shift.who("Geotechnical engineer")
    for left in (1, 0):
        (found,) = disputes(shift.site)
        settle(shift.site, found, found.left, engineer)
        assert len(disputes(shift.site)) == left


def test_only_who_keeps_headings_settles_one(shift: Shift, two: tuple[Entry, Entry]) -> None:
    (found,) = disputes(shift.site)
    with pytest.raises(NotYours):
        settle(shift.site, found, two[0], shift.who("Day supervisor"))

    assert len(disputes(shift.site)) == 1


def test_fields_of_a_newer_version_are_kept_by_whoever_settles(
    shift: Shift, two: tuple[Entry, Entry]
) -> None:
    changes = {"name": "New", "colour_of_signs": "blue"}
    newer = corrected(two[0], changes, stated_now(shift.site, two[0].author))
    shift.site.store.ledger.add([newer])
    (found,) = disputes(shift.site)
    made = settle(shift.site, found, newer, shift.who("Geotechnical engineer"))

    assert made.body["colour_of_signs"] == "blue"


def test_a_lifted_prohibition_stands_against_a_barrier_only_by_who_may_lift(
    shift: Shift,
) -> None:
    """One tablet heard that the barrier went up, another that it was lifted."""
    site, engineer = shift.site, shift.who("Geotechnical engineer")
    said = say_no_entry(site, shift.place().id, Decimal("300.00"), engineer).entry
    put_up = revised(shift, said, "Geotechnical engineer", what="barrier up")
    lifted = revised(shift, said, "Geotechnical engineer", what="lifted")
    (found,) = disputes(site)

    assert {found.left, found.right} == {put_up, lifted}
    assert entry(site, shift.place().id, site.now()).state != "entry allowed"
    with pytest.raises(NotYoursToSettle):
        settle(site, found, lifted, shift.who("Day supervisor"))
    settle(site, found, put_up, shift.who("Day supervisor"))
    assert disputes(site) == ()


def test_the_sides_say_who_and_on_which_machine(shift: Shift, two: tuple[Entry, Entry]) -> None:
    (found,) = side_by_side(shift.site)

    assert found.what == "heading North drive"
    assert [found.left.who, found.left.tablet] == ["Geotechnical engineer", HERE]
    assert found.right.at == two[1].made_at


def test_a_repair_verified_here_and_refused_there_is_compared_by_what_became_of_it(
    shift: Shift,
) -> None:
    """Keys and signatures differ always, and nobody compares them: the state comes first."""
    found = done(shift)
    signed = verified(shift, found)
    refused = {"state": "refused", "refused_because": "a plate is loose"}
    revised(shift, found.entry, "Night supervisor", **refused)
    (both,) = side_by_side(shift.site)
    sides = {both.dispute.left.revision, both.dispute.right.revision}
    state, because, *others = both.dispute.differences

    assert signed.entry.revision in sides
    assert both.what == "repair at 590.4 m, 4180 Main"
    assert {state.left, state.right} == {"verified", "refused"}
    assert (state.where, because.where) == ("state", "refused because")
    assert not {"signature", "public key"} & {it.where for it in others}
    assert shift.entry(MAIN).state == "barricaded", "the stricter one stands"
