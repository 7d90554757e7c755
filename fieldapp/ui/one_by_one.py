"""Long work in short pieces: between two of them the looks of others have their turn."""

from collections import deque
from collections.abc import Callable, Iterable
from functools import partial
from typing import Any, Generic, TypeVar

from schemas.trouble import Trouble

Answer = TypeVar("Answer")


class OneByOne(Generic[Answer]):
    """Runs jobs one after the other in the lane of the long ones, and tells each answer.

    What is begun anew, or stopped, tells nothing more of what was under way.
    """

    def __init__(self, shell: Any, then: Callable[[Answer], None]) -> None:
        self._shell, self._then = shell, then
        self._left: deque[Callable[[], Answer]] = deque()
        self._turn = 0

    def begin(self, jobs: Iterable[Callable[[], Answer]]) -> None:
        """Leave what is left, and begin these."""
        self._turn += 1
        self._left = deque(jobs)
        self._next(self._turn)

    def add(self, jobs: Iterable[Callable[[], Answer]]) -> None:
        """Have these done after what is left."""
        self._left.extend(jobs)

    def stop(self) -> None:
        """Leave what is left."""
        self._turn += 1

    def _next(self, turn: int) -> None:
        if turn == self._turn and self._left:
            job, then = self._left.popleft(), partial(self._answered, turn)
            self._shell.do(job, then=then, on_trouble=partial(self._met, turn), lane="long")

    def _answered(self, turn: int, answer: Answer) -> None:
        if turn == self._turn:
            self._then(answer)
            self._next(turn)

    def _met(self, turn: int, trouble: Trouble) -> None:
        if turn == self._turn:
            self.stop()
            self._shell.say(trouble)
