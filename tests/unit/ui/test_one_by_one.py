"""Long work in short pieces: others have their turn, and nobody is told what they left."""

from collections.abc import Callable
from functools import partial
from typing import Any

from fieldapp.ui.one_by_one import OneByOne
from fieldapp.work.trends import NoSuchTrend
from schemas.trouble import Trouble


class Lane:
    """The lane of long jobs as a list: whoever asks first is first."""

    def __init__(self) -> None:
        self.waiting: list[Callable[[], None]] = []
        self.told: list[Trouble] = []

    def do(
        self,
        job: Callable[[], Any],
        *,
        then: Callable[[Any], None],
        on_trouble: Callable[[Trouble], None],
        lane: str,
    ) -> None:
        assert lane == "long"
        self.waiting.append(partial(_done, job, then, on_trouble))

    def say(self, trouble: Trouble) -> None:
        self.told.append(trouble)

    def finish(self) -> None:
        while self.waiting:
            self.waiting.pop(0)()


def _done(
    job: Callable[[], Any], then: Callable[[Any], None], on_trouble: Callable[[Trouble], None]
) -> None:
    try:
        answer = job()
    except Trouble as trouble:
        on_trouble(trouble)
    else:
        then(answer)


def one(seen: list[int], number: int) -> int:
    seen.append(number)
    return number


def test_a_look_that_is_asked_for_meanwhile_waits_for_one_piece_only() -> None:
    lane, done = Lane(), list[int]()
    looks = OneByOne[int](lane, lambda _answer: None)
    looks.begin(partial(one, done, number) for number in range(3))
    lane.do(partial(one, done, 99), then=print, on_trouble=lane.say, lane="long")
    lane.finish()

    assert done == [0, 99, 1, 2]


def test_what_follows_from_an_answer_is_done_after_what_is_left() -> None:
    lane, done = Lane(), list[int]()
    looks: OneByOne[int]

    def then(answer: int) -> None:
        if answer == 0:
            looks.add([partial(one, done, 7)])

    looks = OneByOne(lane, then)
    looks.begin(partial(one, done, number) for number in range(2))
    lane.finish()

    assert done == [0, 1, 7]


def test_whoever_left_or_began_anew_is_told_nothing_of_what_was_under_way() -> None:
    lane, told = Lane(), list[int]()
    looks = OneByOne[int](lane, told.append)
    looks.begin(partial(one, [], number) for number in range(3))
    looks.begin(partial(one, [], number) for number in (10, 11))
    lane.finish()
    looks.begin(partial(one, [], number) for number in range(3))
    looks.stop()
    lane.finish()

    assert told == [10, 11]


def test_a_trouble_is_told_once_and_ends_the_rest() -> None:
    lane, told = Lane(), list[int]()

    def meets() -> int:
        raise NoSuchTrend("bolts per shift", "overdue")

    looks = OneByOne[int](lane, told.append)
    looks.begin([meets, partial(one, [], 1)])
    lane.finish()

    assert (len(lane.told), told) == (1, [])
