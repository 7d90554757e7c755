"""The surveyed profile of a row, from a file: which one, and whether it is in metres."""

from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Any

from fieldapp.ui.panels.folder_panel import IMPORTS, FolderPanel
from fieldapp.ui.translate import _
from fieldapp.work.round import RoundWork
from fieldapp.work.row_survey import OtherSize, take_row_survey
from schemas.trouble import Trouble


@dataclass(frozen=True)
class RowSurvey:
    """Asks for the file over a round's screen, and has what it says kept."""

    screen: Any
    work: RoundWork

    def ask(self, row: int) -> None:
        """Ask which file holds the points of a row."""
        title = _("Points of row {row}: which file?").format(row=row)
        start = self.screen.shell.site.folder / IMPORTS
        FolderPanel(title, start, partial(self._take, row), (".csv",), newest_first=True).open()

    def _take(self, row: int, path: Path, *, sure: bool = False) -> None:
        screen = self.screen
        if screen.busy or screen.work is not self.work:
            return  # another round came into sight meanwhile
        asker = replace(screen.asker, at=screen.shell.now())
        take = partial(take_row_survey, screen.shell.site, self.work, row, path, asker, sure=sure)
        screen.send(take, partial(self._told, row, path))

    def _told(self, row: int, path: Path, trouble: Trouble) -> None:
        again = partial(self._take, row, path, sure=True)
        if isinstance(trouble, OtherSize):
            self.screen.shell.say(trouble, again, _("It is in metres"))
        else:
            self.screen.shell.say(trouble)
