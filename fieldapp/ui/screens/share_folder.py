"""The shared folder: what went out, came in, waits and was refused; and where it is."""

from functools import partial
from pathlib import Path
from typing import Any

from kivy.clock import Clock
from kivy.properties import (
    BooleanProperty,
    ListProperty,
    NumericProperty,
    ObjectProperty,
    StringProperty,
)

from fieldapp.report.words.exchange import progress_line
from fieldapp.start import SETTINGS_FILE, write_settings
from fieldapp.store.backups import Kept
from fieldapp.ui.long_paths import broken, path_words
from fieldapp.ui.paired import PairedScreen
from fieldapp.ui.panels.dispute_panel import DisputePanel
from fieldapp.ui.panels.folder_panel import FolderPanel
from fieldapp.ui.panels.joining import JoinPanel
from fieldapp.ui.panels.password_panel import PasswordPanel
from fieldapp.ui.sharing import Seen, Stopper, after_exchange, as_it_is
from fieldapp.ui.translate import _, counted
from fieldapp.ui.widgets.header import Header
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.paged_list import PagedList
from fieldapp.ui.widgets.progress_line import ProgressLine
from fieldapp.ui.widgets.words import Words
from fieldapp.work.backup import keep_backup, troubles
from fieldapp.work.share.exchange import named_share
from schemas.settings import Settings
from schemas.trouble import Trouble
from sync.outcome import Progress
from sync.places import PasswordWanted
from sync.smb_status import NotLetIn

__all__ = ["Header", "Key", "KeyRow", "PagedList", "ProgressLine", "ShareFolderScreen", "Words"]


class SharedLine(Words):
    """One sentence about the share."""


class ShareFolderScreen(PairedScreen):
    """Exchanges with the shared folder; it can be stopped at any moment and goes on later."""

    subtitle = StringProperty()
    lines = ListProperty()
    doing = StringProperty()
    part = NumericProperty(0)
    goes_on = BooleanProperty(False)
    paired = BooleanProperty(False)
    place = StringProperty()
    main_title = StringProperty()
    settle_second = StringProperty()
    disputes = ListProperty()
    make_row: Any = ObjectProperty(None, allownone=True)

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._stopper = Stopper()
        self.make_row = _line

    def opened(self, **_about: Any) -> None:
        """Look how it stands; an exchange that goes on is left alone."""
        if not self.goes_on:
            self.shell.do(partial(as_it_is, self.shell.site), then=self._show)

    def act(self) -> None:
        """Do what the main key says: join, exchange, or stop."""
        if self.goes_on:
            self._stopper.stop()
            self.doing = _("stopping")
        elif not self.paired:
            JoinPanel(self.shell, self.opened).open()
        elif not self.place:
            self.choose()
        else:
            self._exchange()

    def choose(self) -> None:
        """Ask which folder it is."""
        start = Path(self.place).parent if self.place else Path.home()
        FolderPanel(_("Which folder is shared?"), start, self._take_place).open()

    def settle(self) -> None:
        """Show the first thing that two tablets state differently."""
        DisputePanel(self.shell, self.disputes[0], self.opened).open()

    # --- inside -------------------------------------------------------------------------------

    def _exchange(self) -> None:
        self.goes_on, self.part, self.doing = True, 0, _("looking")
        self._stopper = Stopper()
        self._set_main()
        watch = partial(self._stopper.watch, self._tell_soon)
        job = partial(after_exchange, self.shell.site, watch)
        self.shell.do(job, then=self._done, on_trouble=self._failed, lane="long")

    def _tell_soon(self, progress: Progress) -> None:
        Clock.schedule_once(lambda _elapsed: self._tell(progress), -1)

    def _tell(self, progress: Progress) -> None:
        if self.goes_on and not self._stopper.stopped:
            self.doing = progress_line(progress)
            self.part = progress.done / progress.of if progress.of else 0

    def _done(self, seen: Seen) -> None:
        self.goes_on, self.doing, self.part = False, "", 0
        self._show(seen)
        self.shell.heard_again()
        job = partial(keep_backup, self.shell.site)
        self.shell.do(job, then=self._backed_up, lane="backup")

    def _backed_up(self, kept: Kept) -> None:
        self.lines = [*self.lines, *(broken(line) for line in troubles(kept))]

    def _failed(self, trouble: Trouble) -> None:
        self.goes_on, self.doing, self.part = False, "", 0
        if isinstance(trouble, PasswordWanted):
            PasswordPanel(trouble.place, partial(self._take_password, trouble.place)).open()
        if isinstance(trouble, NotLetIn):
            self.shell.site.password.forget(trouble.place)
        self.lines = [broken(sentence) for sentence in trouble.sentences()]
        self._set_main()

    def _take_password(self, place: str, password: str) -> None:
        self.shell.site.password.take(place, password)
        self._exchange()

    def _take_place(self, folder: Path) -> None:
        job = partial(named_share, self.shell.site, str(folder))
        self.shell.do(job, then=self._keep_place, on_trouble=self._failed)

    def _keep_place(self, wanted: Settings) -> None:
        path = self.shell.site.folder / SETTINGS_FILE
        self.shell.do(partial(write_settings, path, wanted), then=lambda _none: self._kept(wanted))

    def _kept(self, wanted: Settings) -> None:
        self.shell.site = self.shell.site.with_settings(wanted)
        self.opened()

    def _show(self, seen: Seen) -> None:
        self.paired, self.place = seen.paired, self.shell.site.settings.share
        self.subtitle = path_words(self.place).replace("\n", "") if self.place else ""
        self.lines = [broken(line) for line in seen.lines]
        self.disputes = list(seen.disputes)
        count = len(seen.disputes)
        self.settle_second = counted("{} thing", "{} things", count) if count else ""
        self._set_main()

    def _set_main(self) -> None:
        if self.goes_on:
            self.main_title = _("Stop")
        elif not self.paired:
            self.main_title = _("Join a site")
        else:
            self.main_title = _("Share now") if self.place else _("Choose the folder")


def _line(sentence: str) -> SharedLine:
    return SharedLine(text=sentence)
