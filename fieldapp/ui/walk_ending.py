"""Ending a walk: what it comes to is said first, and who else walked there; then it is kept."""

from collections.abc import Callable
from functools import partial
from typing import Any

from fieldapp.ui.translate import _
from fieldapp.ui.walk_work import EndTold, WalkPage, end_told
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.walk.draft import WalkWork, let_walk_go
from fieldapp.work.walk.end import end_walk
from fieldapp.work.walk.plan import WalkPlan
from fieldapp.work.walk.section_work import Place


class WalkEnding:
    """Asks whether to end a walk. One with no section answered can only be discarded.

    What was only begun is named, and the way back to it comes first.
    """

    def __init__(self, shell: Any, back_to: Callable[[Place], None]) -> None:
        self._shell, self._back_to = shell, back_to
        self._is_ending = False

    def ask(self, page: WalkPage) -> None:
        """Say what ending comes to, and ask."""
        work, shell = page.work, self._shell
        if work is not None:
            by = shell.session.person_id if shell.session else None
            job = partial(end_told, shell.site, page, by)
            shell.do(job, then=partial(self._ask, page))

    def _ask(self, page: WalkPage, told: EndTold) -> None:
        work = page.work
        assert work is not None  # noqa: S101 - asked for by `ask`
        if not told.words:
            sheet = KeySheet(_("No section is answered yet."), _("Nothing of it counted yet."))
            sheet.offer(_("Discard it"), partial(self._discard, work), role="grave")
        else:
            first, *rest = told.words
            sheet = KeySheet(_("End the walk? {told}.").format(told=first), " ".join(rest))
            end, counts = partial(self._end, work, page.plan), _("it is kept and counts")
            if told.begun:
                back = partial(self._back_to, told.begun[0].place)
                sheet.offer(_("Go on there"), back, _("answer it whole"), role="main")
                sheet.offer(_("End the walk"), end, _("what was begun stays due"))
            else:
                sheet.offer(_("End the walk"), end, counts, role="main")
        sheet.open()

    def _end(self, work: WalkWork, plan: WalkPlan) -> None:
        if not self._is_ending:
            self._is_ending = True
            shell = self._shell
            job = partial(end_walk, shell.site, work, plan, shell.session)
            self._go(job, shell.to_board)

    def _discard(self, work: WalkWork) -> None:
        self._go(partial(let_walk_go, self._shell.site, work), self._shell.go_back)

    def _go(self, job: Callable[[], object], leave: Callable[[], None]) -> None:
        self._shell.do(job, then=lambda _done: self._leave(leave), otherwise=self._not_kept)

    def _leave(self, leave: Callable[[], None]) -> None:
        self._is_ending = False
        leave()

    def _not_kept(self) -> None:
        self._is_ending = False
