"""The plan of a month's walk: every section that is due, the late ones first."""

from collections.abc import Callable, Sequence
from typing import Any, Final

from kivy.properties import ListProperty, ObjectProperty, StringProperty

from fieldapp.ui.translate import _
from fieldapp.ui.walk_work import PlanLine
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.stated_row import StatedRow
from fieldapp.work.walk.section_work import Place
from schemas.findings import Verdict

__all__ = ["Key", "PagedList", "PlanPanel"]

MARKS: Final = {
    "late": str(Verdict.FIX_THIS_SHIFT),
    "due": str(Verdict.NOT_LOOKED_AT),
    "answered": "",
}
"""Of a section that was answered on this walk no mark is left."""


class PlanPanel(Sheet):
    """Shows the plan; `then` is told which section a person goes to, None for the next in order.

    A touch on a line goes there; the main key walks along the drive from where it stands.
    """

    lines = ListProperty()
    go_title = StringProperty()
    nothing = StringProperty(_("Nothing is due this month."))
    make_row: Any = ObjectProperty(None, allownone=True)

    def __init__(
        self,
        title: str,
        note: str,
        lines: Sequence[PlanLine],
        go_title: str,
        then: Callable[[Place | None], None],
        otherwise: Callable[[], None],
    ) -> None:
        super().__init__(place="full", title=title, note=note, go_title=go_title)
        self._then, self._otherwise = then, otherwise
        self.make_row = self._row
        self.lines = list(lines)

    def take(self, place: Place | None) -> None:
        """Go away, then hand over the section that was touched."""
        self.close()
        self._then(place)

    def leave(self) -> None:
        """Go away without a section."""
        self.close()
        self._otherwise()

    def _row(self, line: PlanLine) -> StatedRow:
        return StatedRow(verdict=MARKS[line.mark], title=line.title, detail=line.detail)
