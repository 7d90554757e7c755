"""Two revisions of one thing side by side, and the keys by which a person says which stands."""

from collections.abc import Callable
from functools import partial
from typing import Any
from zoneinfo import ZoneInfo

from kivy.properties import ListProperty, ObjectProperty, StringProperty

from fieldapp.report.words.findings import found_words, when
from fieldapp.report.words.lengths import in_units
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.difference_row import DifferenceRow
from fieldapp.ui.widgets.hold_key import HoldKey
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.work.share.disputes import Difference, settle
from fieldapp.work.share.sides import FoundApart, Side, SideBySide, found_apart
from schemas.entry import Entry

__all__ = ["DifferenceRow", "DisputePanel", "HoldKey", "Key", "PagedList"]


class DisputePanel(Sheet):
    """Shows who stated what, where and when; holding a key takes that side as it is."""

    differences = ListProperty()
    left_words = StringProperty()
    right_words = StringProperty()
    make_row: Any = ObjectProperty(None, allownone=True)

    def __init__(self, shell: Any, seen: SideBySide, then: Callable[[], None]) -> None:
        super().__init__(
            place="full",
            title=_("Stated differently: {what}").format(what=_(seen.what)),
            note=_("Until it is settled the stricter entry stands. Hold the side that is right."),
            make_row=_row,
        )
        self._shell, self._seen, self._then = shell, seen, then
        self.left_words, self.right_words = (
            self._side_words(seen.left),
            self._side_words(seen.right),
        )
        self.differences = list(seen.dispute.differences)
        look = partial(found_apart, shell.site, seen.dispute)
        shell.do(look, then=self._show_found, lane="look")

    def take_left(self) -> None:
        """Let the left side stand."""
        self._settle(self._seen.dispute.left)

    def take_right(self) -> None:
        """Let the right side stand."""
        self._settle(self._seen.dispute.right)

    def _show_found(self, apart: tuple[FoundApart, ...]) -> None:
        """Put what is found differently before the fields in which that was stated."""
        units = self._shell.site.settings.units
        found = [
            Difference(_(it.title), *(in_units(found_words(one), units) for one in (left, right)))
            for left, right in apart
            for it in filter(None, (left or right,))
        ]
        decided = 1 if self._seen.dispute.kind == "sign_off" else 0
        said = self._seen.dispute.differences
        self.differences = [*said[:decided], *found, *said[decided:]]

    def _settle(self, chosen: Entry) -> None:
        job = partial(settle, self._shell.site, self._seen.dispute, chosen, self._shell.session)
        self._shell.do(job, then=lambda _entry: self._done())

    def _done(self) -> None:
        self.close()
        self._then()

    def _side_words(self, side: Side) -> str:
        at = when(side.at, ZoneInfo(self._shell.site.settings.zone))
        words = _("{who}, {tablet}, {time}")
        return words.format(who=side.who, tablet=side.tablet, time=at)


def _row(it: Difference) -> DifferenceRow:
    return DifferenceRow(where=_(it.where), left_words=_(it.left), right_words=_(it.right))
