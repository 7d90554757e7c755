"""A report that is being written: how far it is, where it is in the end, and a key to stop it."""

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

from kivy.clock import Clock
from kivy.properties import NumericProperty, StringProperty

from fieldapp.report.words.exchange import progress_line
from fieldapp.ui.long_paths import broken
from fieldapp.ui.sharing import Stopper
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.progress_line import ProgressLine
from fieldapp.ui.widgets.sheet import Sheet
from fieldapp.ui.widgets.words import Words
from schemas.trouble import Trouble
from sync.outcome import Progress, Watcher

__all__ = ["Key", "ProgressLine", "ReportSheet", "Words"]

Write = Callable[[Watcher], Path | None]


class ReportSheet(Sheet):
    """Begins when it is opened; whoever leaves it stops what is not done."""

    line = StringProperty()
    doing = StringProperty()
    part = NumericProperty(0)
    way_out = StringProperty(_("Stop"))

    def __init__(self, shell: Any, write: Write) -> None:
        super().__init__(title=_("Report"))
        self._shell, self._write, self._stopper = shell, write, Stopper()

    def open(self) -> None:
        """Lay it over the screen, and begin."""
        super().open()
        self.doing = _("gathering")
        watch = partial(self._stopper.watch, self._tell_soon)
        job = partial(self._write, watch)
        self._shell.do(job, then=self._done, on_trouble=self._failed, lane="long")

    def on_closed(self) -> None:
        """Let nothing go on that nobody waits for."""
        self._stopper.stop()

    def _tell_soon(self, progress: Progress) -> None:
        Clock.schedule_once(lambda _elapsed: self._tell(progress), -1)

    def _tell(self, progress: Progress) -> None:
        if self.doing:
            self.doing = progress_line(progress)
            self.part = progress.done / progress.of if progress.of else 0

    def _done(self, path: Path | None) -> None:
        self.doing, self.way_out = "", _("Return")
        if path is not None:
            self.line = _("Written: {path}").format(path=broken(str(path)))

    def _failed(self, trouble: Trouble) -> None:
        self.doing, self.way_out = "", _("Return")
        self.line = " ".join(trouble.sentences())
