"""Lines over the whole glass, each leading somewhere: what a point stands on, groups, points."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from kivy.properties import ListProperty, NumericProperty, ObjectProperty

from fieldapp.ui import theme
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.stated_row import StatedRow

__all__ = ["Key", "Line", "LinesPanel", "PagedList"]

ROW_HEIGHT = theme.mm(20)


@dataclass(frozen=True)
class Line:
    """A line in words, and where a touch on it leads; None where nothing more is to be seen."""

    title: str
    detail: str = ""
    then: Callable[[], None] | None = None
    verdict: str = ""
    """Of the mark that stands before it; "": none does."""


class LinesPanel(Sheet):
    """Shows lines, a page at a time. It goes away before a touched one leads on."""

    lines = ListProperty()
    row_height = NumericProperty(ROW_HEIGHT)
    make_row: Any = ObjectProperty(None, allownone=True)

    def __init__(
        self, title: str, note: str, lines: Sequence[Line], row_height: float = ROW_HEIGHT
    ) -> None:
        super().__init__(place="full", title=title, note=note, row_height=row_height)
        self.make_row = partial(_row, row_height)
        self.lines = lines

    def touched(self, line: Line) -> None:
        """Go where a line leads."""
        if line.then is not None:
            self.close()
            line.then()


def _row(height: float, line: Line) -> StatedRow:
    role = "ordinary" if line.then else "row"
    return StatedRow(
        title=line.title, detail=line.detail, verdict=line.verdict, role=role, height=height
    )
