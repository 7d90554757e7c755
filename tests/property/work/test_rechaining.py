"""However chainages are measured anew, entry reaches the same rock, and never farther."""

from datetime import datetime, timedelta
from decimal import Decimal
from itertools import pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess.rechaining import Chaining, in_order
from fieldapp.work.entry import entry
from fieldapp.work.face import Surveyed, followed
from fieldapp.work.headings import heading
from fieldapp.work.rechain import rechain, what_moves
from schemas.bodies.heading import Rechained
from tests.demo_mine import SetClock, session
from tests.made import STARTED_AT
from tests.property.work.test_entry import ANY, ENGINEER, Act, acts, do, mine
from tests.property.work.test_face import SURVEYED, Step, stated, steps


def tenths(least: int, most: int) -> st.SearchStrategy[Decimal]:
    return st.integers(least, most).map(lambda drawn: Decimal(drawn) / 10)


def days(least: int, most: int) -> st.SearchStrategy[datetime]:
    return st.integers(least, most).map(lambda drawn: STARTED_AT + timedelta(days=drawn))


shifts = st.builds(Rechained, from_m=tenths(0, 3_000), by_m=tenths(-600, 600), at=days(1, 5))
several = st.lists(shifts, max_size=4).map(in_order)
places = st.lists(tenths(0, 4_000), min_size=2, max_size=8).map(sorted)


@given(several, places)
def test_no_place_ever_comes_to_lie_inbye_of_one_that_it_was_outbye_of(
    rechained: tuple[Rechained, ...], read: list[Decimal]
) -> None:
    chaining = Chaining(rechained)

    for outbye, inbye in pairwise(map(chaining.today_m, read)):
        assert outbye <= inbye


@given(several, tenths(0, 4_000), days(0, 6))
def test_what_was_measured_anew_at_one_time_and_then_at_another_follow_each_other(
    rechained: tuple[Rechained, ...], read: Decimal, between: datetime
) -> None:
    first = Chaining(rechained).today_m(read, between)

    assert Chaining(rechained, since=between).today_m(first) == Chaining(rechained).today_m(read)


@given(several, tenths(0, 4_000), days(0, 6))
def test_a_place_that_may_be_by_old_marks_or_new_ones_is_the_one_farther_outbye(
    rechained: tuple[Rechained, ...], read: Decimal, read_at: datetime
) -> None:
    """Whichever of the marks that stood then were read."""
    doubted = Chaining(rechained, doubted_to=read_at).today_m(read)
    marks = [None, *(it.at for it in rechained if it.at <= read_at)]

    assert doubted <= min(Chaining(rechained, since=it).today_m(read) for it in marks)


@given(steps, several)
def test_the_face_moves_with_its_chainages_whatever_was_fired_and_read_before(
    told: list[Step], rechained: tuple[Rechained, ...]
) -> None:
    before = followed(Surveyed(SURVEYED), *stated(told))
    chaining = Chaining(rechained)
    after = followed(Surveyed(SURVEYED, chaining), *stated(told))

    assert after.chainage_m == chaining.today_m(before.chainage_m)
    assert after.fired_from_m == chaining.today_m(before.fired_from_m)
    assert after.after_m == {it: chaining.today_m(m) for it, m in before.after_m.items()}


@settings(max_examples=4)
@given(acts(ANY), st.sampled_from([Decimal("1.4"), Decimal("0.3"), Decimal(17)]))
def test_entry_reaches_as_far_as_before_whatever_was_stated(
    told: list[Act], by_m: Decimal
) -> None:
    """A radius that would reach past the origin ends there."""
    clock = SetClock()
    with mine(clock) as site:
        for act in told:
            do(site, clock, act)
        for name in {act.name for act in told}:
            place = heading(site, name).id
            before = entry(site, place, clock())
            moves = what_moves(site, name, Decimal(0), by_m, session(site, ENGINEER))
            clock.go_on(minutes=1)
            rechain(site, moves)
            after = entry(site, place, moves.rechained.at)

            assert after.line_m == moves.after.line_m
            assert after.line_m <= before.line_m + by_m
            assert after.line_m == before.line_m + by_m or not before.line_m
            assert after.face_m == before.face_m + by_m
            assert [after.state, after.coverage] == [before.state, before.coverage]
