"""One intersection on its way to being stated, or put right: one question after the other.

Every answer is on the disk before it shows; nothing counts before it is stated.
"""

from functools import partial
from typing import Any

from kivy.properties import BooleanProperty, ObjectProperty, StringProperty

from fieldapp.report.intersection_picture import IntersectionPicture
from fieldapp.ui.intersection.stating import DraftPage, draft_page, opened_intersection
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.touch_by_touch import TouchByTouch
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.plan_plot import PlanPlot
from fieldapp.ui.widgets.question_panel import QuestionPanel
from fieldapp.ui.widgets.words import Words
from fieldapp.work.asked import Choice
from fieldapp.work.intersection.draft import (
    IntersectionWork,
    discard_intersection,
    keep_intersection,
    keep_intersection_touch,
    undo_intersection,
)
from fieldapp.work.said_touches import SaidTouch

__all__ = [
    "CautionLine",
    "Header",
    "IntersectionScreen",
    "Key",
    "KeyRow",
    "PlanPlot",
    "QuestionPanel",
    "Words",
]


class IntersectionScreen(TouchByTouch, PairedScreen):
    """Asks what an intersection is, and draws its plan as far as it is known."""

    page: DraftPage | None = ObjectProperty(None, allownone=True)
    heading_id = StringProperty()
    title = StringProperty()
    subtitle = StringProperty()
    told = StringProperty()
    drawn: IntersectionPicture | None = ObjectProperty(None, allownone=True)
    wide = BooleanProperty(True)
    busy = BooleanProperty(False)
    can_undo = BooleanProperty(False)
    can_keep = BooleanProperty(False)

    def opened(self, heading_id: str, draft_id: str = "", corrects: str = "") -> None:
        """Go on with one that was begun here, begin a new one, or put one right."""
        self.heading_id, self.title, self.subtitle, self.told = heading_id, "", "", ""
        self.page, self.drawn = None, None
        self.busy, self.can_keep, self.can_undo = False, False, False
        self.ids.question.show(None)
        shell = self.shell
        job = partial(
            opened_intersection, shell.site, heading_id, draft_id, corrects, shell.session
        )
        shell.do(job, then=self._take, otherwise=shell.go_back)

    def answer(self, choice: Choice) -> None:
        """Give the answer that stands on a chip."""
        self._say(choice.says)

    def keep(self) -> None:
        """State it: entry is restricted from then on."""
        page, shell = self.page, self.shell
        if self.busy or page is None or not page.can_keep:
            return
        self.busy = True
        job = partial(keep_intersection, shell.site, page.work, shell.session)
        shell.do(job, then=self._kept, otherwise=self._not_kept)

    # --- inside -------------------------------------------------------------------------------

    def _touched(self, work: IntersectionWork, touch: SaidTouch) -> IntersectionWork:
        return keep_intersection_touch(self.shell.site, work, touch)

    def _undone(self, work: IntersectionWork) -> IntersectionWork:
        return undo_intersection(self.shell.site, work, self._by)

    def _let_go(self, work: IntersectionWork) -> None:
        discard_intersection(self.shell.site, work)

    def _page_of(self, work: IntersectionWork) -> DraftPage:
        return draft_page(self.shell.site, work)

    def _kept(self, known: Any) -> None:
        self.busy = False
        self.shell.go_back()
        self.shell.open("intersections", heading_id="", thing=known.id)

    def _take(self, page: DraftPage) -> None:
        if page.heading_id != self.heading_id:
            return
        self.busy, self.page = False, page
        self.title, self.subtitle, self.told = page.name, page.where, page.told
        self.drawn = page.picture
        self.can_undo, self.can_keep = page.work.can_undo, page.can_keep
        done = _("Everything is answered: look at it once more, then state it.")
        self.ids.question.show(page.question, done)
