"""What is on the glass: where the widgets and their letters are, and which pixels lie there."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from math import hypot
from typing import Any

import numpy as np
from kivy.uix.label import Label
from kivy.uix.widget import Widget

from fieldapp.report.colours import RGB
from fieldapp.ui import theme
from fieldapp.ui.density import DP_PER_MM
from fieldapp.ui.widgets.mark import Mark
from fieldapp.ui.widgets.words import extent, wrapped_height

Numbers = np.ndarray[tuple[int], np.dtype[np.uint32]]
Pixels = np.ndarray[tuple[int, int, int], np.dtype[np.uint8]]

PLACES = np.array([1 << 16, 1 << 8, 1], dtype=np.uint32)
SHARE_OF_A_GROUND = 0.12
"""A colour that fills so much of a text's box is a ground on which the text is read."""
ROUNDING_PX = 1.0


@dataclass(frozen=True)
class Box:
    """A rectangle on the glass, in pixels from the lower left."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.top - self.bottom

    def overlaps(self, other: "Box") -> bool:
        return (
            min(self.right, other.right) - max(self.left, other.left) > ROUNDING_PX
            and min(self.top, other.top) - max(self.bottom, other.bottom) > ROUNDING_PX
        )

    def distance(self, other: "Box") -> float:
        beside = max(other.left - self.right, self.left - other.right, 0.0)
        above = max(other.bottom - self.top, self.bottom - other.top, 0.0)
        return hypot(beside, above)


@dataclass(frozen=True)
class Glass:
    """What the rules look at: the widgets in sight and the picture of them."""

    touchables: list[Widget]
    texts: list[Label]
    marks: list[Mark]
    pixels: Pixels

    @property
    def box(self) -> Box:
        return Box(0, 0, self.pixels.shape[1], self.pixels.shape[0])


# --- where things are -------------------------------------------------------------------------


def box_of(widget: Widget) -> Box:
    """Give a widget's box on the glass, through every transformation above it."""
    xs_and_ys = ((x, y) for x in (widget.x, widget.right) for y in (widget.y, widget.top))
    corners = [widget.to_window(x, y) for x, y in xs_and_ys]
    xs, ys = zip(*corners, strict=True)
    return Box(min(xs), min(ys), max(xs), max(ys))


def ink_of(label: Label) -> Box:
    """Give the box of the letters themselves, which may be smaller than the label's."""
    box = box_of(label)
    left_pad, top_pad, right_pad, bottom_pad = label.padding
    inner = Box(
        box.left + left_pad, box.bottom + bottom_pad, box.right - right_pad, box.top - top_pad
    )
    width, height = needed(label)
    if label.text_size[0] is not None:
        width = min(width, inner.width)
    free, above = inner.width - width, inner.height - height
    left = inner.left + free * {"left": 0, "auto": 0, "right": 1}.get(label.halign, 0.5)
    bottom = inner.bottom + above * {"bottom": 0, "top": 1}.get(label.valign, 0.5)
    if label.text_size[0] is None:
        left, bottom = inner.left + free / 2, inner.bottom + above / 2
    return Box(left, bottom, left + width, bottom + height)


def name_of(widget: Widget) -> str:
    """Name a widget so that a person finds it: its kind and the words on it."""
    words = [each.text for each in widget.walk(restrict=True) if getattr(each, "text", "")]
    inside = type(widget.parent).__name__ if isinstance(widget.parent, Widget) else "the window"
    return f"{type(widget).__name__}({' / '.join(words)[:40]!r}) in {inside}"


def px_per_mm() -> float:
    from kivy.metrics import dp

    return float(dp(DP_PER_MM))


def pairs(widgets: list[Widget]) -> Iterator[tuple[Widget, Widget]]:
    for one, other in combinations(widgets, 2):
        if not (holds(one, other) or holds(other, one)):
            yield one, other


def holds(outer: Widget, inner: Widget) -> bool:
    """Tell whether a widget is, or lies in, another."""
    at: Any = inner
    while isinstance(at, Widget):
        if at is outer:
            return True
        at = at.parent
    return False


def _kind(label: Label) -> tuple[str, bool]:
    return label.font_name, bool(label.bold)


def room(label: Label) -> tuple[float, float]:
    left, top, right, bottom = label.padding
    return label.width - left - right, label.height - top - bottom


def needed(label: Label) -> tuple[float, float]:
    size = int(label.font_size)
    one_line = extent(label.text, _kind(label), size)
    bound = label.text_size[0]
    if bound is None or getattr(label, "shorten", False):
        lines = label.text.split("\n")
        width = max(extent(line, _kind(label), size)[0] for line in lines)
        return width, one_line[1] * len(lines)
    room = int(bound - label.padding[0] - label.padding[2])
    word = max(extent(word, _kind(label), size)[0] for word in label.text.split())
    return max(word, min(one_line[0], room)), wrapped_height(label.text, _kind(label), size, room)


@lru_cache(maxsize=16)
def letters_of(font_name: str) -> frozenset[str]:
    if font_name in theme.FONT_FILES:
        return theme.letters_of(font_name)
    from fontTools.ttLib import TTFont
    from kivy.core.text import LabelBase
    from kivy.resources import resource_find

    registered = LabelBase._fonts.get(font_name, (font_name,))[0]
    with TTFont(resource_find(registered), lazy=True) as font:
        return frozenset(map(chr, font.getBestCmap()))


# --- pixels -----------------------------------------------------------------------------------


def patch(glass: Glass, box: Box) -> Pixels:
    left, right = max(0, int(box.left) - 2), int(box.right) + 2
    bottom, top = max(0, int(box.bottom)), int(box.top)
    return glass.pixels[bottom:top, left:right].reshape(-1, 1, 3)


def grounds(patch: Pixels) -> list[RGB]:
    """Give the colours that fill a good part of the patch, the largest first."""
    numbers, counts = np.unique(_numbered(patch), return_counts=True)
    order = np.argsort(counts)[::-1]
    enough = counts[order] >= SHARE_OF_A_GROUND * counts.sum()
    chosen = numbers[order][enough] if enough.any() else numbers[order][:1]
    return [_rgb(colour) for colour in _colours(chosen)]


def colours(patch: Pixels) -> list[RGB]:
    found = _colours(np.unique(_numbered(patch)))
    light = found.sum(axis=1)
    extremes = found[[int(light.argmin()), int(light.argmax())]]
    return [_rgb(colour) for colour in extremes]


def _numbered(patch: Pixels) -> Numbers:
    """Give each colour as one number, which sorts far faster than three."""
    numbers: Numbers = patch.reshape(-1, 3).astype(np.uint32) @ PLACES
    return numbers


def _colours(numbers: Numbers) -> Any:
    return np.stack([numbers >> 16 & 255, numbers >> 8 & 255, numbers & 255], axis=1)


def _rgb(colour: np.ndarray[tuple[int], np.dtype[np.uint8]]) -> RGB:
    red, green, blue = (float(part) / 255 for part in colour)
    return red, green, blue
