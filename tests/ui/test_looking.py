"""Looking again: one look at a time, and the last one asked for is never lost."""

from collections.abc import Callable
from threading import Event

import pytest

from fieldapp.ui.background import Lane, in_background
from fieldapp.ui.density import BadPixelsPerInch
from fieldapp.ui.looking import Looking
from schemas.trouble import Trouble
from tests.ui.harness import Tablet

pytestmark = pytest.mark.window


class Doing:
    """What a look needs of a shell: the app's own way to do things beside the screen."""

    def __init__(self) -> None:
        self.told: list[Trouble] = []

    def do(
        self,
        job: Callable[[], int],
        *,
        then: Callable[[int], None],
        on_trouble: Callable[[Trouble], None],
        lane: Lane,
    ) -> None:
        in_background(job, then=then, on_trouble=on_trouble, lane=lane)

    def say(self, trouble: Trouble) -> None:
        self.told.append(trouble)


def test_what_is_asked_for_meanwhile_is_looked_at_once_afterwards(tablet: Tablet) -> None:
    may_end, asked, seen = Event(), list[int](), list[int]()

    def prepare() -> Callable[[], int]:
        asked.append(len(asked))
        number = asked[-1]

        def look() -> int:
            may_end.wait(5)
            return number

        return look

    looking = Looking(Doing(), prepare, seen.append)
    for _ in range(5):
        looking.again()
    may_end.set()
    tablet.until(lambda: len(seen) == 2)
    tablet.frames(5)

    assert seen == [0, 1]


def test_a_look_that_met_a_trouble_tells_it_and_the_next_one_looks_again(tablet: Tablet) -> None:
    doing, seen = Doing(), list[int]()
    troubles = [BadPixelsPerInch(ppi="1490")]

    def look() -> int:
        if troubles:
            raise troubles.pop()
        return 7

    looking = Looking(doing, lambda: look, seen.append)
    looking.again()
    tablet.until(lambda: bool(doing.told))
    looking.again()
    tablet.until(lambda: bool(seen))

    assert seen == [7]
