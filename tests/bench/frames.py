"""What a finger sets off, in milliseconds of Python a frame.

Only what the window's own thread computes is counted: not what other programs of a busy machine
do meanwhile, nor the graphics card, to which Python hands the frame.
"""

import time
from collections.abc import Callable
from statistics import median
from typing import TYPE_CHECKING

from tests.bench.ratio import Ratio

if TYPE_CHECKING:
    from tests.ui.harness import Tablet

FRAME_MS, SLOW_FRAME_MS = 1000 / 60, 1000 / 30


def beside_a_frame(what: str, frames_ms: list[float], budget_ms: float = FRAME_MS) -> Ratio:
    """Give the median of what frames took, beside how long one lasts."""
    note = f"slowest {max(frames_ms):.1f} ms of {len(frames_ms)}"
    beside = f"a frame at {1000 / budget_ms:.0f} Hz"
    return Ratio(what, beside, median(frames_ms), budget_ms, unit="ms", note=note)


def frame_ms(tablet: "Tablet", act: Callable[[], object]) -> float:
    """Time what a finger sets off, and the drawing of the frame that shows it. [ms]"""
    from kivy.clock import Clock
    from kivy.lang import Builder

    began = time.thread_time()
    act()
    Clock.tick_draw()
    Builder.sync()
    tablet.window.dispatch("on_draw")
    return (time.thread_time() - began) * 1e3
