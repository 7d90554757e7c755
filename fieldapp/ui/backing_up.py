"""Keeps a backup now and then while the app is open, beside everything else."""

from functools import partial

from kivy.clock import Clock

from fieldapp.store.backups import HOUR, Kept
from fieldapp.ui.shell import Shell
from fieldapp.work.backup import keep_backup_when_due

FIRST_AFTER_S = 60.0
"""Not while somebody waits for the first screen."""


class BackingUp:
    """Has a backup kept a minute after the start and every hour, where one is due.

    What stands in the way is told once a start: work goes on. A second place that is away is
    not told, a stick is often taken along; the Settings screen shows when it got its last one.
    """

    def __init__(self, shell: Shell) -> None:
        self._shell = shell
        self._told = False
        self._events = [
            Clock.schedule_once(lambda _elapsed: self.keep(), FIRST_AFTER_S),
            Clock.schedule_interval(lambda _elapsed: self.keep(), HOUR.total_seconds()),
        ]

    def keep(self) -> None:
        """Keep a backup, if one is due."""
        job = partial(keep_backup_when_due, self._shell.site)
        self._shell.do(job, then=self._kept, lane="backup")

    def stop(self) -> None:
        """Keep none any more."""
        for event in self._events:
            event.cancel()

    def _kept(self, kept: Kept) -> None:
        if kept.here is not None and not self._told:
            self._told = True
            self._shell.say(kept.here)
