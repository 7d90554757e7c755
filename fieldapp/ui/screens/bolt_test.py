"""One test of support: one question or reading at a time, the pull growing, what it comes to.

Every reading is on the disk before it shows; nothing counts before it is kept.
"""

from collections.abc import Mapping
from functools import partial
from typing import Any

from kivy.clock import Clock
from kivy.properties import BooleanProperty, ListProperty, ObjectProperty, StringProperty

from fieldapp.ui.bolt_test_work import (
    NOT_YET,
    BoltTestPage,
    ResultWords,
    bolt_test_page,
    opened_correction,
    opened_test,
)
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.panels.letters_panel import LettersPanel
from fieldapp.ui.touch_by_touch import TouchByTouch
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.pull_plot import PullPlot
from fieldapp.ui.widgets.question_panel import QuestionPanel
from fieldapp.ui.widgets.rank_card import RankCard
from fieldapp.work.asked import Choice
from fieldapp.work.authority import ENGINEER
from fieldapp.work.bolt_tests.draft import (
    BoltTestWork,
    discard_test,
    hold_timed,
    keep_bolt_test,
    keep_test_touch,
    undo_test,
)
from fieldapp.work.bolt_tests.recording import Recorded
from fieldapp.work.bolt_tests.refusals import KeepItSo
from fieldapp.work.said_touches import SaidTouch
from schemas.trouble import Trouble

__all__ = [
    "BoltTestScreen",
    "CautionLine",
    "Header",
    "Key",
    "KeyRow",
    "PullPlot",
    "QuestionPanel",
    "RankCard",
]

LONGEST_NAME = 40
EVERY_S = 0.5
"""How often the running hold is shown anew."""


class BoltTestScreen(TouchByTouch, PairedScreen):
    """One test on its way to being kept."""

    page: BoltTestPage | None = ObjectProperty(None, allownone=True)
    heading_id = StringProperty()
    title = StringProperty()
    subtitle = StringProperty()
    result: ResultWords = ObjectProperty(NOT_YET, rebind=True)
    points = ListProperty()
    held = StringProperty()
    """How long the hold timer has been running; empty: it is not."""
    pulls = BooleanProperty(False)
    wide = BooleanProperty(True)
    busy = BooleanProperty(False)
    can_undo = BooleanProperty(False)
    can_keep = BooleanProperty(False)
    counts = StringProperty()
    """When what is kept counts."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._list_of = ""
        self._ticking = Clock.create_trigger(self._tick, EVERY_S, interval=True)

    def opened(
        self,
        heading_id: str,
        began: Mapping[str, Any] | None = None,
        test_id: str | None = None,
        list_of: str = "",
        corrects: str = "",
    ) -> None:
        """Go on with a test that was begun here, or begin one with what is known of it.

        Of one that `corrects` another what was stated stands on keys, to be asked anew.
        Once it is kept, the list of `list_of` is shown: of one heading, or of all.
        """
        self._list_of = list_of
        self.heading_id, self.title, self.subtitle, self.page = heading_id, "", "", None
        self.busy, self.can_keep, self.can_undo, self.result = False, False, False, NOT_YET
        self.points, self.pulls, self.held = [], False, ""
        self._ticking.cancel()
        self.ids.question.show(None)
        shell = self.shell
        job = partial(opened_test, shell.site, heading_id, began or {}, test_id)
        if corrects:
            job = partial(opened_correction, shell.site, corrects, shell.session)
        shell.do(job, then=self._take, otherwise=shell.go_back)

    # --- one touch ----------------------------------------------------------------------------

    def answer(self, choice: Choice) -> None:
        """Give the answer that stands on a chip."""
        if choice.says:
            self._say(choice.says)
        elif self.page is not None and self.page.question is not None:
            key = self.page.question.key
            title = _(self.page.question.ask)
            LettersPanel(title, lambda name: self._say({key: name}), longest=LONGEST_NAME).open()

    def time_hold(self) -> None:
        """Start the hold timer, or stop it."""
        self._send(lambda page: hold_timed(self.shell.site, page.work, self._by))

    def keep(self) -> None:
        """Keep it: it counts from then on."""
        self._keep(all_the_same=False)

    # --- inside -------------------------------------------------------------------------------

    def _touched(self, work: BoltTestWork, touch: SaidTouch) -> BoltTestWork:
        return keep_test_touch(self.shell.site, work, touch)

    def _undone(self, work: BoltTestWork) -> BoltTestWork:
        return undo_test(self.shell.site, work, self._by)

    def _let_go(self, work: BoltTestWork) -> None:
        discard_test(self.shell.site, work)

    def _page_of(self, work: BoltTestWork) -> BoltTestPage:
        return bolt_test_page(self.shell.site, work)

    def _keep(self, *, all_the_same: bool) -> None:
        page, shell = self.page, self.shell
        if self.busy or page is None or not page.can_keep or shell.session is None:
            return
        self.busy = True
        job = partial(keep_bolt_test, shell.site, page.work, shell.session)
        shell.do(lambda: job(all_the_same=all_the_same), then=self._kept, on_trouble=self._asked)

    def _asked(self, trouble: Trouble) -> None:
        self._not_kept()
        if isinstance(trouble, KeepItSo):
            self.shell.say(trouble, partial(self._keep, all_the_same=True), _("Keep it so"))
        else:
            self.shell.say(trouble)

    def _kept(self, recorded: Recorded) -> None:
        self.busy = False
        self.shell.go_back()
        self.shell.open("bolt_tests", heading_id=self._list_of, test_id=recorded.known.id)

    def _take(self, page: BoltTestPage) -> None:
        if page.heading_id != self.heading_id:
            return
        self.busy, self.page = False, page
        self.title = page.name
        self.subtitle = page.where or _("test of support")
        self.result = page.result
        self.pulls = page.pulls
        self.points = page.points
        self.can_undo, self.can_keep = page.work.can_undo, page.can_keep
        self.counts = self._when_it_counts(page)
        self.ids.question.show(page.question)
        plot = self.ids.plot
        plot.load_kn, plot.slip_mm = page.load_kn, page.slip_mm
        self._tick(0)
        if self.held:
            self._ticking()
        else:
            self._ticking.cancel()

    def _when_it_counts(self, page: BoltTestPage) -> str:
        session = self.shell.session
        if page.lets_a_failure_go and not (session and session.has(*ENGINEER)):
            return _("once an engineer agrees")
        return _("it counts at once")

    def _tick(self, _elapsed: float) -> None:
        held = self.page.held(self.shell.now()) if self.page else None
        if held is None:
            self.held = ""
            return
        minutes, seconds = divmod(max(0, int(held.total_seconds())), 60)
        self.held = f"{minutes}:{seconds:02}"
