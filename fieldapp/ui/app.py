"""The app in its window: a first frame at once, then the records, then the screens."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

from kivy.app import App
from kivy.base import ExceptionManager
from kivy.config import Config

from fieldapp.ui.fault import Faults
from fieldapp.ui.front import Front

if TYPE_CHECKING:
    from fieldapp.work.site import Clock

WINDOW = (1280, 800)
"""Pixels of the usual tablet; on a desktop the window may be given any shape."""
LEAST_PX = 720
"""A narrower window has no room for the keys of a glove."""
FAULT = 1


class Lastrow(App):
    """One start of the app."""

    def __init__(self, folder: Path, now: "Clock | None" = None) -> None:
        super().__init__()
        self.title = "Lastrow"
        self.front = Front(folder, now)
        self.front.bind(on_stop=lambda *_args: self.stop())

    def build(self) -> Front:
        """Give the glass. Called by Kivy."""
        return self.front

    def on_start(self) -> None:
        """Begin once a first frame has been seen. Called by Kivy."""
        after_first_frame(self.front.begin)

    def on_stop(self) -> None:
        """Keep what was begun. Called by Kivy."""
        self.front.end()

    def on_pause(self) -> bool:
        """Stay while something else lies over the app; the lock follows the clock."""
        self.front.laid_aside()
        return True


def run(folder: Path, *, now: "Clock | None" = None, portrait: bool = False) -> int:
    """Open the app on the records in a home folder.

    Parameters
    ----------
    folder : Path
        The home folder; a new one is made.
    now : callable, optional
        The clock; the system's where none is given.
    portrait : bool
        Whether the window opens taller than wide; it may be given any shape later.

    Returns
    -------
    int
        The exit code: 0, or 1 after a fault of the program.
    """
    _shape_window(WINDOW[::-1] if portrait else WINDOW)
    app = Lastrow(folder, now)
    faults = Faults(folder, app.stop)
    ExceptionManager.add_handler(faults)
    try:
        app.run()
    finally:
        ExceptionManager.remove_handler(faults)
    return FAULT if faults.met else 0


def after_first_frame(act: Any) -> None:
    """Call `act` when the next frame is on the glass."""
    from kivy.core.window import Window

    def seen(*_args: object) -> None:
        Window.unbind(on_flip=seen)
        act()

    Window.bind(on_flip=seen)


def _shape_window(size: tuple[int, int]) -> None:
    width, height = size
    shape = {"width": width, "height": height, "minimum_width": LEAST_PX}
    for name, value in {**shape, "minimum_height": LEAST_PX, "resizable": 1}.items():
        Config.set("graphics", name, str(value))
    from kivy.core.window import Window

    from fieldapp.ui.theme import paint_window

    paint_window(Window)
