"""Looking again at what is kept: one look at a time, however often it is asked for."""

from collections.abc import Callable
from typing import Any, Generic, TypeVar

from schemas.trouble import Trouble

Seen = TypeVar("Seen")


class Looking(Generic[Seen]):
    """Runs a look beside the screen. Asked for meanwhile, it looks once more afterwards.

    `prepare` gives the look as things are when it begins. It shares the lane of the long jobs,
    so that a slow look never holds up a save.
    """

    def __init__(
        self, shell: Any, prepare: Callable[[], Callable[[], Seen]], then: Callable[[Seen], None]
    ) -> None:
        self._shell, self._prepare, self._then = shell, prepare, then
        self._under_way = self._wanted = False

    def again(self) -> None:
        """Look again, now or as soon as the look that is under way has ended."""
        if self._under_way:
            self._wanted = True
            return
        self._under_way, self._wanted = True, False
        self._shell.do(self._prepare(), then=self._seen, on_trouble=self._not_seen, lane="long")

    def _seen(self, seen: Seen) -> None:
        self._ended()
        self._then(seen)

    def _not_seen(self, trouble: Trouble) -> None:
        self._ended()
        self._shell.say(trouble)

    def _ended(self) -> None:
        self._under_way = False
        if self._wanted:
            self.again()
