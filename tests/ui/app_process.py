"""``python -m tests.ui.app_process HOME ACT [TIME]``: the app as it runs, with a finger on it.

It writes one line of JSON for each thing that is seen, and ends with the app's exit code. What
it does: "stop" once somebody can sign in, "portrait" the same taller than wide, "fault" then, or
"board": sign in and see the board.
The mine's clock stands at TIME where one is given.
"""

import json
import sys
import time
from datetime import datetime
from pathlib import Path
from typing import Any

from kivy.base import EventLoop
from kivy.clock import Clock
from kivy.uix.widget import Widget

from fieldapp.ui.app import run
from fieldapp.ui.widgets.bounce import bounce

LOOK_EVERY_S = 0.02
SIGN_IN = ("Day supervisor", "1", "1", "1", "1", "Done")
HEAVY = {"sqlalchemy", "pydantic", "numpy", "scipy", "cryptography"}


class Finger:
    """Hands touches to the event loop, as a touch screen does."""

    def __init__(self) -> None:
        self.waiting: list[tuple[str, Any]] = []

    def start(self) -> None:
        """Begin. Called by Kivy."""

    def stop(self) -> None:
        """End. Called by Kivy."""

    def update(self, dispatch_fn: Any) -> None:
        while self.waiting:
            dispatch_fn(*self.waiting.pop(0))

    def tap(self, words: Any) -> None:
        from kivy.core.window import Window

        from tests.ui.harness import Finger as Contact

        contact = Contact(words.to_window(*words.center), Window)
        self.waiting += [("begin", contact), ("end", contact)]


def texts() -> dict[str, Any]:
    from kivy.core.window import Window

    layers = (widget for layer in Window.children for widget in layer.walk(restrict=True))
    return {it.text: it for it in layers if getattr(it, "text", "") and shines(it)}


def window_size() -> tuple[int, int]:
    from kivy.core.window import Window

    width, height = Window.system_size
    return width, height


def shines(widget: Any) -> bool:
    at = widget
    while isinstance(at, Widget):
        if not at.opacity:
            return False
        at = at.parent
    return True


def tell(**facts: object) -> None:
    line = json.dumps({**facts, "at_s": time.time()})
    print(line, flush=True)  # noqa: T201  the test reads it


class Eye:
    """Looks at the glass every moment, and acts on what stands there."""

    def __init__(self, act: str) -> None:
        self.act = act
        self.finger = Finger()
        self.keys = list(SIGN_IN)
        self.done: set[str] = set()
        EventLoop.add_input_provider(self.finger)
        Clock.schedule_interval(self.look, LOOK_EVERY_S)

    def once(self, what: str) -> bool:
        new = what not in self.done
        self.done.add(what)
        return new

    def look(self, _elapsed: float) -> None:
        seen = texts()
        if "Opening the records …" in seen and self.once("splash"):
            tell(seen="splash", loaded=sorted(HEAVY & set(sys.modules)), texts=list(seen))
        if "Day supervisor" in seen and self.once("who"):
            tell(seen="who", texts=list(seen), size=window_size())
            if self.act == "fault":
                Clock.schedule_once(lambda _elapsed: 1 / 0, 0)
            elif self.act in ("stop", "portrait"):
                EventLoop.close()
        if self.act == "board":
            self.sign_in(seen)
        if "Stop" in seen and not bounce.is_on and self.once("stop"):
            tell(seen="stop", texts=list(seen))
            self.finger.tap(seen["Stop"])

    def sign_in(self, seen: dict[str, Any]) -> None:
        if bounce.is_on:
            return
        if self.keys and self.keys[0] in seen and not self.finger.waiting:
            self.finger.tap(seen[self.keys.pop(0)])
        if "Shift board" in seen and "4180 Main" in seen and self.once("board"):
            tell(seen="board")
            EventLoop.close()


if __name__ == "__main__":
    eye = Eye(sys.argv[2])  # named, because the clock holds nothing that it calls
    stands = [datetime.fromisoformat(at) for at in sys.argv[3:]]
    clock = (lambda: stands[0]) if stands else None
    sys.exit(run(Path(sys.argv[1]), now=clock, portrait=eye.act == "portrait"))
