"""Which heading is meant: a page of large keys over the whole glass."""

from collections.abc import Callable, Sequence
from typing import Any

from kivy.properties import ListProperty, ObjectProperty

from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.paged_grid import PagedGrid
from fieldapp.ui.widgets.sheet import Sheet

__all__ = ["HeadingPanel", "Key", "PagedGrid"]


class HeadingPanel(Sheet):
    """Asks for one of the board's lines; it goes away before `then` is told which."""

    lines = ListProperty()
    make_key: Any = ObjectProperty(None, allownone=True)

    def __init__(self, title: str, lines: Sequence[Any], then: Callable[[Any], None]) -> None:
        super().__init__(place="full", title=title, make_key=self._key)
        self._then = then
        self.lines = lines

    def take(self, line: Any) -> None:
        """Go away, then hand over the line that was touched."""
        self.close()
        self._then(line)

    def _key(self, line: Any) -> Key:
        key = Key(title=line.name, second=line.entry, tall=True)
        key.bind(on_release=lambda _key: self.take(line))
        return key
