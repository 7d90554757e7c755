"""Judging the rounds of the past year by a new revision, one by one beside the screen."""

from collections.abc import Callable
from functools import partial

from fieldapp.ui.one_by_one import OneByOne
from fieldapp.ui.panels.lines_panel import Line, LinesPanel
from fieldapp.ui.shell import Shell
from fieldapp.ui.standard_edit_work import EditPage, differently_words
from fieldapp.ui.translate import _, counted
from fieldapp.work.standard_editing import (
    JudgedDifferently,
    ToCompare,
    judged_differently,
    rounds_of_the_past_year,
)
from schemas.standard import Standard

Found = tuple[ToCompare, ...] | JudgedDifferently | None


class PastRounds:
    """Judges them, says how many are left, and shows those that come out otherwise."""

    def __init__(self, shell: Shell, say: Callable[[str], None]) -> None:
        self._shell, self._say = shell, say
        self._looks: OneByOne[Found] = OneByOne(shell, self._take)
        self._page: EditPage | None = None
        self._differ: list[JudgedDifferently] = []
        self._left = 0

    def begin(self, page: EditPage) -> None:
        """Judge every round of the past year by the revision as it stands now."""
        if not isinstance(page.work.standard, Standard):
            self._say(_("Rounds can be judged by it once it can be read."))
            return
        self._page, self._differ = page, []
        self._say(_("Looking for the rounds of the past year …"))
        self._looks.begin([partial(rounds_of_the_past_year, self._shell.site)])

    def stop(self) -> None:
        """Judge no more of them."""
        self._looks.stop()

    def _take(self, found: Found) -> None:
        page = self._page
        assert page is not None  # noqa: S101 - nothing is told before it was begun
        new = page.work.standard
        assert isinstance(new, Standard)  # noqa: S101 - as above
        if isinstance(found, tuple):
            site, base = self._shell.site, page.work.base_revision
            self._left = len(found)
            self._looks.add(partial(judged_differently, site, it, base, new) for it in found)
        else:
            self._left -= 1
            self._differ += [found] if found is not None else []
        self._say(_("{count} rounds left to judge …").format(count=self._left))
        if self._left == 0:
            self._show(page)

    def _show(self, page: EditPage) -> None:
        self._say(page.said)
        lines = [Line(*differently_words(it)) for it in self._differ]
        note = counted("{} round of the past year", "{} rounds of the past year", len(lines))
        if not lines:
            note = _("It would have judged every round of the past year the same.")
        LinesPanel(_("Judged differently"), note, lines).open()
