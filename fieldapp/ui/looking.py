"""Looking again at what is kept: one look at a time, however often it is asked for."""

from collections.abc import Callable
from typing import Any, Final, Generic, TypeVar

from fieldapp.ui.translate import _
from schemas.trouble import Trouble

Seen = TypeVar("Seen")

BEING_WORKED_OUT: Final = _("Being worked out …")
"""In place of a list that nobody has looked at yet: an empty one would say that nothing is."""


class Looking(Generic[Seen]):
    """Runs a look beside the screen. Asked for meanwhile, it looks once more afterwards.

    `prepare` gives the look as things are when it begins. It has a lane of its own, so that a
    slow look never holds up a save, nor an exchange or a report a look.
    """

    def __init__(
        self, shell: Any, prepare: Callable[[], Callable[[], Seen]], then: Callable[[Seen], None]
    ) -> None:
        self._shell, self._prepare, self._then = shell, prepare, then
        self._under_way = self._wanted = self._expected = False

    @property
    def is_last(self) -> bool:
        """Whether what was seen last is how it stands: no other look is to follow."""
        return not (self._under_way or self._expected)

    def expect(self) -> None:
        """Know that something is being stated: the look that is asked for next shows it."""
        self._expected = True

    def again(self) -> None:
        """Look again, now or as soon as the look that is under way has ended."""
        self._expected = False
        if self._under_way:
            self._wanted = True
            return
        self._under_way, self._wanted = True, False
        self._shell.do(self._prepare(), then=self._seen, on_trouble=self._not_seen, lane="look")

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
