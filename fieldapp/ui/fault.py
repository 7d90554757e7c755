"""A fault of the program: logged, told on a glass of its own, and the app stops."""

import logging
from collections.abc import Callable
from pathlib import Path
from typing import Any

from kivy.base import ExceptionHandler, ExceptionManager
from kivy.properties import StringProperty
from kivy.uix.boxlayout import BoxLayout

from fieldapp.ui.paired import PairedWidget
from fieldapp.ui.translate import _
from fieldapp.ui.widgets.caution_line import CautionLine
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from fieldapp.ui.widgets.message_panel import MessagePanel

__all__ = ["CautionLine", "FaultPanel", "Faults", "Key", "KeyRow", "MessagePanel"]

log = logging.getLogger(__name__)


class FaultPanel(PairedWidget, BoxLayout):
    """What is told of a fault. It fires `on_stop` when it was read."""

    happened = StringProperty()
    kept = StringProperty()
    do_next = StringProperty()

    __events__ = ("on_stop",)

    def __init__(self, fault: BaseException, folder: Path) -> None:
        super().__init__()
        self.happened = _("The program has a fault: {fault}.").format(fault=type(fault).__name__)
        self.kept = _(
            "Your draft is on the disk: every touch that was shown as done is there, and an "
            "open round comes back at the same place."
        )
        self.do_next = _(
            "Stop, start it again, and give the log in {folder} to whoever looks after the tablet."
        ).format(folder=folder / "log")

    def on_stop(self) -> None:
        """Told when it was read."""


class Faults(ExceptionHandler):
    """Meets every fault of the app, in one place.

    The first is told on an empty glass, and nothing of the app goes on under it. A second one
    ends the app at once.
    """

    def __init__(self, folder: Path, stop: Callable[[], None]) -> None:
        super().__init__()
        self._folder, self._stop = folder, stop
        self.met = False

    def handle_exception(self, fault: BaseException) -> int:
        """Tell the first fault; called by Kivy, which is told whether to go on."""
        if not isinstance(fault, Exception) or self.met:
            return int(ExceptionManager.RAISE)
        self.met = True
        log.error("fault", exc_info=fault)
        self._tell(fault)
        return int(ExceptionManager.PASS)

    def _tell(self, fault: Exception) -> None:
        from kivy.core.window import Window

        for layer in list(Window.children):
            Window.remove_widget(layer)
        panel = FaultPanel(fault, self._folder)
        panel.bind(on_stop=self._stopped)
        Window.add_widget(panel)

    def _stopped(self, *_args: Any) -> None:
        self._stop()
