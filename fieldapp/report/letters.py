"""Which of our fonts draws which part of a text, for paper and pictures alike.

Both painters measure letters by the fonts' own tables here, so a text takes the same room
in a PDF and in a PNG.
"""

import re
from collections.abc import Iterator
from functools import lru_cache
from itertools import groupby
from pathlib import Path
from typing import Final

from assets import FONTS

FAMILIES: Final = ("B612", "NotoSans")
"""In the order in which they are asked for a letter."""

STRANGER: Final = "\N{REPLACEMENT CHARACTER}"
"""Printed for a letter that no font of ours has: seen to be missing, never left out."""

_BREAKS: Final = re.compile(r"[ \t\r\n]+")

MM_PER_POINT: Final = 25.4 / 72
CAPITAL: Final = 0.75
"""Height of a capital of B612 in sizes of the font."""


def font_file(family: str, *, bold: bool) -> Path:
    """Give the file of a family's regular or bold letters."""
    return FONTS / f"{family}-{'Bold' if bold else 'Regular'}.ttf"


def runs(text: str) -> Iterator[tuple[str, str]]:
    """Split a text into parts that one family draws: (family, part)."""
    drawn = ((_family_of(letter), letter) for letter in text if letter != "\N{SOFT HYPHEN}")
    for family, part in groupby(drawn, key=lambda pair: pair[0]):
        letters = "".join(letter for _, letter in part)
        yield (family, letters) if family else (FAMILIES[-1], STRANGER * len(letters))


def width_mm(text: str, size_pt: float, *, bold: bool = False) -> float:
    """Say how wide a text is on paper."""
    return _width_em(text, bold) * size_pt * MM_PER_POINT


def wrapped(text: str, size_pt: float, room_mm: float, *, bold: bool = False) -> list[str]:
    """Break a text into lines no wider than the room, inside a word only where it must be."""
    room = room_mm / (size_pt * MM_PER_POINT)
    space = _width_em(" ", bold)
    lines: list[str] = []
    line, wide = "", 0.0
    for word in _words(text):
        # No kerning: a line is as wide as its words and spaces together.
        wider = wide + (space if line else 0.0) + _width_em(word, bold)
        if wider <= room:
            line, wide = f"{line} {word}" if line else word, wider
            continue
        *whole, line_left = _broken(word, room, bold=bold)
        lines += [done for done in (line, *whole) if done]
        line, wide = line_left, _width_em(line_left, bold)
    return [*lines, line] if line else lines


def cut(text: str, size_pt: float, room_mm: float, *, bold: bool = False) -> str:
    """Shorten a text to one line, with an ellipsis where something was left out."""
    flat = " ".join(_words(text))
    if width_mm(flat, size_pt, bold=bold) <= room_mm:
        return flat
    room = room_mm / (size_pt * MM_PER_POINT) - _width_em("…", bold)
    return f"{_broken(flat, room, bold=bold)[0].rstrip()}…"


def _words(text: str) -> list[str]:
    """Split at spaces and ends of lines, never at a no-break space."""
    return [word for word in _BREAKS.split(text) if word]


def _broken(word: str, room_em: float, *, bold: bool) -> list[str]:
    """Break a word into parts that fit; a part has a letter at least."""
    parts, wide = [""], 0.0
    for letter in word:
        wide += _width_em(letter, bold)
        if parts[-1] and wide > room_em:
            parts.append("")
            wide = _width_em(letter, bold)
        parts[-1] += letter
    return parts


def _family_of(letter: str) -> str:
    return next((family for family in FAMILIES if ord(letter) in _letters_of(family)), "")


@lru_cache(maxsize=8192)
def _width_em(text: str, bold: bool) -> float:  # noqa: FBT001  a cache's key
    return sum(
        _advances_em(family, bold).get(ord(letter), 0.0)
        for family, part in runs(text)
        for letter in part
    )


@lru_cache(maxsize=4)
def _advances_em(family: str, bold: bool) -> dict[int, float]:  # noqa: FBT001  a cache's key
    from fontTools.ttLib import TTFont

    with TTFont(font_file(family, bold=bold), lazy=True) as font:
        widths, em = font["hmtx"], font["head"].unitsPerEm
        return {code: widths[name][0] / em for code, name in font.getBestCmap().items()}


@lru_cache(maxsize=2)
def _letters_of(family: str) -> frozenset[int]:
    regular, bold = (set(_advances_em(family, weight)) for weight in (False, True))
    return frozenset(regular & bold)
