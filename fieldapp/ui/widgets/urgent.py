"""*No entry* from a pad: whatever a person is typing, the two touches stay two.

Pads lie over every screen and know none of them. What they are told to do about *no entry* is
set once, by whoever holds the screens.
"""

from collections.abc import Callable
from typing import Any

from kivy.event import EventDispatcher
from kivy.properties import ObjectProperty


class Urgent(EventDispatcher):
    """Passes the first touch of *no entry* on. Without `act` no pad offers it."""

    act: Callable[[], Any] | None = ObjectProperty(None, allownone=True)

    def no_entry(self) -> None:
        """Take the first touch."""
        if self.act is not None:
            self.act()


urgent = Urgent()
