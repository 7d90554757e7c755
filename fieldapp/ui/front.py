"""What is on the glass: first the opening, then the screens of one mine."""

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from kivy.properties import ObjectProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui import records
from fieldapp.ui.background import in_background, let_finish
from fieldapp.ui.opening import Opening
from fieldapp.ui.theme import look
from fieldapp.ui.translate import _
from schemas.trouble import Trouble

if TYPE_CHECKING:
    from fieldapp.store.bring_back import BroughtBack
    from fieldapp.ui.backing_up import BackingUp
    from fieldapp.ui.shell import Shell
    from fieldapp.work.site import Clock


class Front(BoxLayout):
    """The glass of one start of the app. `shell` is there once the records are open.

    Nothing heavy is loaded before `begin`, which is called when a first frame has been seen.
    """

    shell: "Shell | None" = ObjectProperty(None, allownone=True)

    __events__ = ("on_stop",)

    def __init__(self, folder: Path, now: "Clock | None" = None, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self._folder, self._now = folder, now
        self._log = records.Log()
        self._backing_up: BackingUp | None = None
        self.opening = Opening()
        self.opening.bind(
            on_again=lambda *_args: self.begin(),
            on_bring_back=lambda *_args: self._bring_back(),
            on_defaults=lambda *_args: self._use_defaults(),
            on_stop=lambda *_args: self.dispatch("on_stop"),
        )
        self.opening.say(_("Opening the records …"))
        self.add_widget(self.opening)

    def begin(self) -> None:
        """Open the records beside the screen, and show the first screen or what went wrong."""
        self.opening.say(_("Opening the records …"))
        in_background(self._open, then=self._show, on_trouble=self._told)

    def end(self) -> None:
        """Let what was begun be kept, then let go of the records."""
        if self._backing_up is not None:
            self._backing_up.stop()
        let_finish()
        if self.shell is not None:
            self.shell.stop()
            self.shell.site.store.close()
            self.shell = None
        self._log.stop()

    def laid_aside(self) -> None:
        """Leave nothing on that nobody sees."""
        if self.shell is not None:
            self.shell.laid_aside()

    def on_stop(self) -> None:
        """Told when somebody stops the app."""

    # --- inside -------------------------------------------------------------------------------

    def _open(self) -> records.Records:
        self._log.start(self._folder)
        return records.open_records(self._folder, self._now)

    def _show(self, opened: records.Records) -> None:
        self._look_meanwhile(opened)
        from fieldapp.ui.backing_up import BackingUp
        from fieldapp.ui.screens import SCREENS
        from fieldapp.ui.shell import Shell

        look.use(opened.site.settings.theme)
        self.shell = Shell(opened.site, SCREENS, opened.demo_codes)
        self._backing_up = BackingUp(self.shell)
        self.clear_widgets()
        self.add_widget(self.shell.manager)
        self.shell.to_board()
        self.shell.do(records.warm_up, lane="long")

    def _look_meanwhile(self, opened: records.Records) -> None:
        """Begin the first look at what is kept as early as can be: after years it takes a while.

        Whoever needs what it finds waits for it, and is told what stood in its way.
        """
        look_now = opened.site.store.wholeness.look
        in_background(look_now, then=lambda _: None, on_trouble=lambda _: None, lane="long")

    def _told(self, trouble: Trouble) -> None:
        way_on = records.way_on(trouble, self._folder)
        newest = records.newest_backup(self._folder) if way_on == "bring back" else ""
        self.opening.tell(trouble, way_on or "", newest)

    def _bring_back(self) -> None:
        self.opening.say(_("Bringing the records back …"))
        job = partial(records.bring_back, self._folder, self._now)
        in_background(job, then=self._brought_back, on_trouble=self._told)

    def _brought_back(self, brought: "BroughtBack") -> None:
        self.opening.tell_brought_back(brought)

    def _use_defaults(self) -> None:
        job = partial(records.set_settings_aside, self._folder)
        in_background(job, then=lambda _none: self.begin(), on_trouble=self._told)
