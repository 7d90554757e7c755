"""What is wrong with what is on the glass: walks over the widgets and looks at the pixels.

Each rule is a function that yields faults; `faults` runs them all. The pixels are read back
from the frame buffer, so text that something covers, or that lies half on another ground, is
found as well as text of a bad colour.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np
from kivy.uix.behaviors import ButtonBehavior
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.label import Label
from kivy.uix.widget import Widget

from fieldapp.report.colours import contrast
from fieldapp.ui import theme
from fieldapp.ui.widgets.mark import Mark
from fieldapp.ui.widgets.sheet import Sheet
from tests.ui.glass import (
    ROUNDING_PX,
    Glass,
    box_of,
    colours,
    grounds,
    holds,
    ink_of,
    letters_of,
    name_of,
    needed,
    pairs,
    patch,
    px_per_mm,
    room,
)
from tests.ui.harness import Tablet

LEAST_TARGET_MM = 15.0
LEAST_GAP_MM = 3.0
LEAST_CONTRAST = 7.0
LEAST_DRAWN_CONTRAST = 6.0
"""What the best pixel of thin, smoothed letters must still reach."""


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong, and where."""

    rule: str
    where: str
    what: str

    def __str__(self) -> str:
        return f"{self.rule}: {self.where}: {self.what}"


def faults(tablet: Tablet) -> list[Fault]:
    """Give everything that is wrong with what is on the glass now."""
    tablet.settle()
    sheets = [layer for layer in tablet.window.children if isinstance(layer, Sheet)]
    seen = list(tablet.everything(sheets[0] if sheets else None))
    glass = Glass(
        touchables=[each for each in seen if isinstance(each, ButtonBehavior)],
        texts=[each for each in seen if isinstance(each, Label) and each.text.strip()],
        marks=[each for each in seen if isinstance(each, Mark)],
        pixels=np.asarray(tablet.picture())[::-1],
    )
    return [fault for rule in RULES for fault in rule(glass)]


def faults_both_ways(tablet: Tablet) -> list[Fault]:
    """Give what is wrong as it is held, and once it is turned with all this on the glass.

    It stays turned.
    """
    as_held = faults(tablet)
    wide, high = tablet.window.system_size
    tablet.turn((high, wide))
    return [*as_held, *(replace(each, where=f"turned, {each.where}") for each in faults(tablet))]


def faults_in_any_light(tablet: Tablet) -> list[Fault]:
    """Give what is wrong both ways, in the dark look and then in the bright one. It stays on."""
    found: list[Fault] = []
    for name in ("dark", "bright"):
        theme.look.use(name)
        both_ways = faults_both_ways(tablet)
        found += (replace(each, where=f"{name}, {each.where}") for each in both_ways)
    return found


# --- the rules --------------------------------------------------------------------------------


def target(glass: Glass) -> Iterator[Fault]:
    """Find what is too small for a glove."""
    for widget in glass.touchables:
        box = box_of(widget)
        least = min(box.width, box.height) / px_per_mm()
        if least < LEAST_TARGET_MM - 0.05:
            yield _fault("target", widget, f"{least:.1f} mm, need {LEAST_TARGET_MM:g}")


def gap(glass: Glass) -> Iterator[Fault]:
    """Find what stands too close to something else that is touched."""
    for one, other in pairs(glass.touchables):
        between = box_of(one).distance(box_of(other)) / px_per_mm()
        if between < LEAST_GAP_MM - 0.05 and not box_of(one).overlaps(box_of(other)):
            yield _fault("gap", one, f"{between:.1f} mm to {name_of(other)}")


def overlap(glass: Glass) -> Iterator[Fault]:
    """Find touchables on top of each other, and text written over text."""
    for one, other in pairs(glass.touchables):
        if box_of(one).overlaps(box_of(other)):
            yield _fault("overlap", one, f"lies over {name_of(other)}")
    for text, second in combinations(glass.texts, 2):
        if ink_of(text).overlaps(ink_of(second)):
            yield _fault("overlap", text, f"is written over {name_of(second)}")


def offscreen(glass: Glass) -> Iterator[Fault]:
    """Find what lies partly beyond the glass."""
    width, height = glass.box.width, glass.box.height
    for widget in (*glass.touchables, *glass.texts, *glass.marks):
        box = ink_of(widget) if isinstance(widget, Label) else box_of(widget)
        beyond = max(-box.left, -box.bottom, box.right - width, box.top - height)
        if beyond > ROUNDING_PX:
            yield _fault("offscreen", widget, f"{beyond:.0f} px beyond the glass")


def outside(glass: Glass) -> Iterator[Fault]:
    """Find text that runs out of the key or row on which it stands, or the box it is laid in."""
    for label in glass.texts:
        ground = next((each for each in glass.touchables if holds(each, label)), label.parent)
        if not isinstance(ground, BoxLayout | ButtonBehavior):
            continue
        ink, box = ink_of(label), box_of(ground)
        beyond = max(
            box.left - ink.left, box.bottom - ink.bottom, ink.right - box.right, ink.top - box.top
        )
        if beyond > ROUNDING_PX:
            yield _fault("outside", label, f"{beyond:.0f} px beyond {name_of(ground)}")


def clipped(glass: Glass) -> Iterator[Fault]:
    """Find text that is cut off, or larger than its box."""
    for label in glass.texts:
        if getattr(label, "is_shortened", False):
            yield _fault("clipped", label, "ends in an ellipsis")
            continue
        width, height = needed(label)
        room_width, room_height = room(label)
        if width > room_width + ROUNDING_PX or height > room_height + ROUNDING_PX:
            needs = f"needs {width:.0f} × {height:.0f} px"
            yield _fault("clipped", label, f"{needs}, has {room_width:.0f} × {room_height:.0f}")


def text_size(glass: Glass) -> Iterator[Fault]:
    """Find text that is too small to be read at arm's length."""
    for label in glass.texts:
        if label.font_size < theme.SMALLEST_TEXT - 0.01:
            yield _fault("text_size", label, f"{label.font_size:.1f} px")


def letters(glass: Glass) -> Iterator[Fault]:
    """Find letters that the font would draw as an empty box."""
    for label in glass.texts:
        drawn = letters_of(label.font_name)
        missing = {letter for letter in label.text if not letter.isspace()} - drawn
        if missing:
            yield _fault("letters", label, f"{label.font_name} lacks {' '.join(sorted(missing))}")


def legible(glass: Glass) -> Iterator[Fault]:
    """Find text that doesn't stand out enough from what is really drawn behind it."""
    for label in glass.texts:
        seen = patch(glass, ink_of(label))
        if seen.size == 0:
            continue
        red, green, blue, _ = label.color
        ink = (red, green, blue)
        behind = [each for each in grounds(seen) if contrast(each, ink) > 1.3]
        if not behind:
            yield _fault("legible", label, "has the colour of its ground")
            continue
        worst = min(contrast(each, ink) for each in behind)
        drawn = max(contrast(behind[0], each) for each in colours(seen))
        if worst < LEAST_CONTRAST - 0.02:
            yield _fault("legible", label, f"{worst:.1f} : 1, need {LEAST_CONTRAST:g}")
        elif drawn < LEAST_DRAWN_CONTRAST:
            yield _fault("legible", label, f"is drawn with {drawn:.1f} : 1 only; is it covered?")


def wordless(glass: Glass) -> Iterator[Fault]:
    """Find a mark with no word beside it: shape and colour alone are not enough."""
    for mark in glass.marks:
        beside = mark.parent.walk(restrict=True) if isinstance(mark.parent, Widget) else ()
        if mark.verdict and not any(getattr(each, "text", "").strip() for each in beside):
            yield _fault("wordless", mark, f"{mark.verdict} without a word")


RULES: tuple[Callable[[Glass], Iterator[Fault]], ...] = (
    target,
    gap,
    overlap,
    offscreen,
    outside,
    clipped,
    text_size,
    letters,
    legible,
    wordless,
)


def _fault(rule: str, widget: Widget, what: str) -> Fault:
    return Fault(rule, name_of(widget), what)
