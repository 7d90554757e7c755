"""Hands on a tablet: a real window, driven by touches that enter where a screen's would.

A touch goes in through an input provider, then through Kivy's own event loop, and so to the
widget under it. Nothing is called behind a widget's back. One window serves a process, because
Kivy is global.
"""

import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from kivy.base import EventLoop, runTouchApp
from kivy.config import Config
from kivy.input.motionevent import MotionEvent
from kivy.uix.widget import Widget
from PIL import Image

Point = tuple[float, float]

LANDSCAPE = (1280, 800)
PORTRAIT = (800, 1280)

A_BREATH_S = 0.001
PATIENCE_S = 30.0
"""How long hands wait for what must come: the machine may be busy, and a time is no verdict."""
BOUNCE_S = 0.03
"""How long no touch is taken after a change here; the app waits longer, for slower fingers."""


class Finger(MotionEvent):
    """One contact with the glass, in pixels of the window."""

    count = 0

    def __init__(self, at: Point, window: Any) -> None:
        Finger.count += 1
        self.window = window
        super().__init__("hand", Finger.count, self.share_of(at), is_touch=True, type_id="touch")

    def share_of(self, at: Point) -> dict[str, float]:
        """Give a point as parts of the window, which is what input providers report."""
        width, height = self.window.system_size
        return {"x": at[0] / width, "y": at[1] / height}

    def depack(self, args: dict[str, float]) -> None:
        """Take over what was reported. Called by Kivy."""
        self.sx, self.sy = args["x"], args["y"]
        self.profile = ("pos",)
        super().depack(args)


class Tablet:
    """The window and the hands on it. `touches` counts what a person has done."""

    def __init__(self, size: tuple[int, int] = LANDSCAPE) -> None:
        # In a corner, so that both ways of holding it fit on one screen.
        place = {"position": "custom", "left": "0", "top": "0"}
        shape = {"width": str(size[0]), "height": str(size[1])}
        for name, value in {**place, **shape}.items():
            Config.set("graphics", name, value)
        from kivy.core.window import Window

        from fieldapp.ui import theme
        from fieldapp.ui.widgets.bounce import bounce

        self.window = Window
        self.bounce = bounce
        self.touches = 0
        self._waiting: list[tuple[str, Finger]] = []
        if EventLoop.status != "started":
            runTouchApp(embedded=True)
        EventLoop.add_input_provider(self)
        self._looked_at = False
        Window.bind(on_draw=self._unseen, on_flip=self._unseen)
        theme.paint_window(Window)
        self.turn(size)

    # --- what Kivy asks of an input provider -----------------------------------------------

    def start(self) -> None:
        """Begin. Called by Kivy."""

    def stop(self) -> None:
        """End. Called by Kivy."""

    def update(self, dispatch_fn: Callable[[str, Finger], None]) -> None:
        """Hand over what the fingers did since the last frame. Called by Kivy."""
        while self._waiting:
            dispatch_fn(*self._waiting.pop(0))

    # --- the glass --------------------------------------------------------------------------

    @property
    def driver(self) -> str:
        """The name of the video driver that SDL really uses."""
        import ctypes

        maps = Path("/proc/self/maps").read_text().splitlines()
        sdl = next(line.split()[-1] for line in maps if "libSDL2-2" in line)
        ask = ctypes.CDLL(sdl).SDL_GetCurrentVideoDriver
        ask.restype = ctypes.c_char_p
        name: bytes | None = ask()
        return (name or b"none").decode()

    def turn(self, size: tuple[int, int]) -> None:
        """Turn the tablet, or give it another screen."""
        self.window.size = size
        self.until(lambda: tuple(self.window.system_size) == size)
        self.settle()

    def show(self, *widgets: Widget) -> None:
        """Put these on the glass, in place of everything."""
        for child in list(self.window.children):
            self.window.remove_widget(child)
        for widget in widgets:
            self.window.add_widget(widget)
        self.touches = 0
        self.settle()

    def frames(self, count: int = 2) -> None:
        """Let frames pass."""
        for _ in range(count):
            EventLoop.idle()
            self.window.mainloop()

    def settle(self) -> None:
        """Let layout, text and textures come to rest."""
        self.frames(6)

    def until(self, so: Callable[[], bool], seconds: float = PATIENCE_S) -> None:
        """Let frames pass until something is so; fail when it takes too long."""
        end = time.monotonic() + seconds
        while not so():
            assert time.monotonic() < end, "waited too long"
            self._idle()

    def wait(self, seconds: float) -> None:
        """Let frames pass for a time."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            self._idle()

    def _idle(self) -> None:
        """Let a frame pass, and others work."""
        self.frames(1)
        time.sleep(A_BREATH_S)

    def picture(self) -> Image.Image:
        """Give what is on the glass, read back from the frame buffer."""
        from kivy.graphics.opengl import GL_RGB, GL_UNSIGNED_BYTE, glReadPixels

        with self._looking():
            self.frames(1)
            self.window.dispatch("on_draw")
        width, height = self.window.system_size
        pixels = glReadPixels(0, 0, width, height, GL_RGB, GL_UNSIGNED_BYTE)
        picture = Image.frombytes("RGB", (width, height), bytes(pixels))
        return picture.transpose(Image.Transpose.FLIP_TOP_BOTTOM)

    def picture_of(self, widget: Widget) -> Image.Image:
        """Give the part of the picture that a widget covers."""
        left, bottom = widget.to_window(*widget.pos)
        right, top = left + widget.width, bottom + widget.height
        high = self.window.system_size[1]
        return self.picture().crop((int(left), int(high - top), int(right), int(high - bottom)))

    def colour_at(self, widget: Widget) -> tuple[int, ...]:
        """Give the colour near a widget's left edge, where nothing is written."""
        part = self.picture_of(widget)
        colour = part.getpixel((part.width // 40 + 4, part.height // 2))
        assert isinstance(colour, tuple)
        return colour

    def keep_picture(self, path: Path) -> None:
        """Write what is on the glass to a PNG file."""
        path.parent.mkdir(parents=True, exist_ok=True)
        self.picture().save(path)

    @contextmanager
    def _looking(self) -> Iterator[None]:
        self._looked_at = True
        yield
        self._looked_at = False

    def _unseen(self, _window: object) -> bool:
        """Keep a frame from being painted that nobody looks at: a third of the time went there."""
        return not self._looked_at

    # --- what is there ----------------------------------------------------------------------

    def everything(self, root: Widget | None = None) -> Iterator[Widget]:
        """Walk over every widget that can be seen, the topmost window layer first."""
        for layer in [root] if root else self.window.children:
            yield from (widget for widget in layer.walk(restrict=True) if _seen(widget))

    def find(self, wanted: str | type[Widget], root: Widget | None = None) -> Widget:
        """Find the one that shows this text, or is of this kind; fail when there is none."""
        found = self.find_all(wanted, root)
        assert found, f"{wanted} is not on the glass; there is {self.texts(root)}"
        return found[0]

    def find_all(self, wanted: str | type[Widget], root: Widget | None = None) -> list[Widget]:
        """Find all that show this text (the touchable around it), or are of this kind."""
        if not isinstance(wanted, str):
            return [each for each in self.everything(root) if isinstance(each, wanted)]
        shown = [each for each in self.everything(root) if getattr(each, "text", None) == wanted]
        return [_touchable_around(each) or each for each in shown]

    def texts(self, root: Widget | None = None) -> list[str]:
        """Give every text on the glass."""
        return [each.text for each in self.everything(root) if getattr(each, "text", "")]

    # --- hands ------------------------------------------------------------------------------

    def place_of(self, target: Widget | str | Point) -> Point:
        """Give the middle of a widget, of what shows a text, or the point itself."""
        if isinstance(target, tuple):
            return target
        widget = self.find(target) if isinstance(target, str) else target
        x, y = widget.to_window(*widget.center)
        return x, y

    def tap(self, target: Widget | str | Point) -> None:
        """Touch and let go."""
        self.hold(target, 0.0)

    def hold(self, target: Widget | str | Point, seconds: float) -> None:
        """Touch, stay, and let go."""
        self.press(target)
        self.wait(seconds)
        self.let_go()

    def press(self, target: Widget | str | Point) -> None:
        """Touch and stay, once it is there and what the glass shows may be answered."""
        if isinstance(target, str):
            self.look_for(target)
        self.until(lambda: not self.bounce.is_on)
        self.press_at_once(target)

    def look_for(self, text: str, seconds: float = PATIENCE_S) -> None:
        """Wait until a text is on the glass, as eyes do: what it says may still be looked up."""
        end = time.monotonic() + seconds
        while not self.find_all(text) and time.monotonic() < end:
            self._idle()

    def press_at_once(self, target: Widget | str | Point) -> None:
        """Touch and stay, without a look at what the glass shows now."""
        self.touches += 1
        self.finger = Finger(self.place_of(target), self.window)
        self._do(("begin", self.finger))

    def move(self, finger: Finger, at: Point) -> None:
        """Move a finger that lies on the glass; it is heard before this returns."""
        finger.move(finger.share_of(at))
        self._waiting.append(("update", finger))
        EventLoop.dispatch_input()

    def let_go(self) -> None:
        """Lift the finger that pressed."""
        self._do(("end", self.finger))
        self.frames(3)

    def drag(
        self, path: Sequence[Point], *others: Sequence[Point], steps: int = 10, stay: float = 0.0
    ) -> None:
        """Move a finger along a path, and stay at its end; further paths are further fingers."""
        self.until(lambda: not self.bounce.is_on)
        self.touches += 1
        paths = [path, *others]
        fingers = [Finger(each[0], self.window) for each in paths]
        self._do(*(("begin", finger) for finger in fingers))
        for step in range(1, steps + 1):
            for finger, each in zip(fingers, paths, strict=True):
                finger.move(finger.share_of(_along(each, step / steps)))
            self._do(*(("update", finger) for finger in fingers))
        self.wait(stay)
        self._do(*(("end", finger) for finger in fingers))
        self.frames(2)

    def _do(self, *acts: tuple[str, Finger]) -> None:
        self._waiting.extend(acts)
        self.frames(2)


def _along(path: Sequence[Point], share: float) -> Point:
    at = share * (len(path) - 1)
    leg = min(int(at), len(path) - 2)
    (x0, y0), (x1, y1) = path[leg], path[leg + 1]
    return x0 + (x1 - x0) * (at - leg), y0 + (y1 - y0) * (at - leg)


def _seen(widget: Widget) -> bool:
    at: Any = widget
    while isinstance(at, Widget):
        if at.opacity == 0 or at.width < 1 or at.height < 1:
            return False
        at = at.parent
    return at is not None


def _touchable_around(widget: Widget) -> Widget | None:
    from kivy.uix.behaviors import ButtonBehavior

    at: Any = widget
    while isinstance(at, Widget):
        if isinstance(at, ButtonBehavior):
            return at
        at = at.parent
    return None
