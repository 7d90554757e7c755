"""Asks what was found when somebody looked into why a person went beyond the last row."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.report.words.findings import BETWEEN
from fieldapp.ui.board_words import BoardLine
from fieldapp.ui.panels.lines_panel import Line, LinesPanel
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.asking import KeySheet
from fieldapp.work.beyond import FOUND, Beyond, look_into

if TYPE_CHECKING:
    from fieldapp.ui.shell import Shell


def beyond_words(lines: Sequence[BoardLine]) -> str:
    """Say where, in one line; nothing where nothing waits."""
    said = [
        _("{heading}, round {number}: {why}").format(
            heading=line.name, number=it.number, why=_why(it)
        )
        for line in lines
        for it in line.went_beyond
    ]
    return BETWEEN.join(said)


def _why(it: Beyond) -> str:
    return _(it.reason) if it.reason else _("no reason stated")


@dataclass(frozen=True)
class LookingInto:
    """Takes a supervisor's or an engineer's word that it was looked into."""

    shell: "Shell"
    lines: Sequence[BoardLine]
    then: Callable[[], None]

    def ask(self) -> None:
        """Show each round, or go on at once where there is one only."""
        waiting = [(line, it) for line in self.lines for it in line.went_beyond]
        if len(waiting) == 1:
            self._found(*waiting[0])
            return
        shown = [
            Line(
                _("{heading}, round {number}").format(heading=line.name, number=it.number),
                _why(it),
                partial(self._found, line, it),
            )
            for line, it in waiting
        ]
        LinesPanel(_("Beyond the last row: what was looked into?"), "", shown).open()

    def _found(self, line: BoardLine, it: Beyond) -> None:
        sheet = KeySheet(
            _("Looked into: what was found?"),
            _("{heading}, round {number}: {why}. It opens no heading.").format(
                heading=line.name, number=it.number, why=_why(it)
            ),
            holds_sentences=True,
        )
        for found in FOUND:
            sheet.offer(_(found), partial(self._state, it, found))
        sheet.open()

    def _state(self, it: Beyond, found: str) -> None:
        shell, session = self.shell, self.shell.session
        if session is not None:
            job = partial(look_into, shell.site, it, found, session)
            shell.do(job, then=lambda _known: self.then())
