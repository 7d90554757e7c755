"""A draft is the fold of its touches: undo takes back exactly the last that stands."""

from functools import cache

from hypothesis import given
from hypothesis import strategies as st

from fieldapp.work.demo.scenarios import BOLT_MISSING, work_of
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import AnyTouch, Undone, read_touch, write_touch
from tests.made import STARTED_AT
from tests.standards import changed

steps = st.lists(st.integers(0, 3), max_size=60)


@cache
def looked() -> RoundWork:
    return work_of(BOLT_MISSING, changed(lambda document: document), STARTED_AT)


def begun() -> RoundWork:
    work = looked()
    return RoundWork(
        round_id=work.round_id,
        draft_id=work.draft_id,
        heading=work.heading,
        standard=work.standard,
        began=work.began,
    )


def walked(drawn: list[int]) -> tuple[RoundWork, list[AnyTouch]]:
    """Touch on, and take back at every 0; beside it the plain stack of what stands."""
    work, stack = begun(), list[AnyTouch]()
    coming = iter(looked().touches)
    for step in drawn:
        touch = next(coming, None)
        if step == 0 and work.can_undo:
            work = work.touched(Undone(at=STARTED_AT))
            stack.pop()
        elif touch is not None:
            work = work.touched(touch)
            stack.append(touch)
    return work, stack


@given(steps)
def test_what_stands_is_what_was_not_taken_back(drawn: list[int]) -> None:
    work, stack = walked(drawn)
    plain = begun()
    for touch in stack:
        plain = plain.touched(touch)

    assert list(work.standing) == stack
    assert work.seen == plain.seen


@given(steps, st.integers(1, 20))
def test_taken_back_and_done_again_it_is_as_it_was(drawn: list[int], back: int) -> None:
    work, stack = walked(drawn)
    again = stack[-back:]
    other = work
    for _ in again:
        other = other.touched(Undone(at=STARTED_AT))
    for touch in again:
        other = other.touched(touch)

    assert other.seen == work.seen


@given(steps)
def test_taken_back_to_the_start_it_is_as_it_began(drawn: list[int]) -> None:
    work, stack = walked(drawn)
    for _ in stack:
        work = work.touched(Undone(at=STARTED_AT))

    assert work.seen == begun().began
    assert not work.can_undo


@given(steps)
def test_a_draft_read_from_the_disk_is_the_same(drawn: list[int]) -> None:
    work, _ = walked(drawn)
    kept = begun()
    for touch in work.touches:
        kept = kept.touched(read_touch(write_touch(touch)))

    assert kept.seen == work.seen
