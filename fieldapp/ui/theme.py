"""Colours, sizes and letters, by meaning.

Sizes are constants in pixels of this screen. Colours live on `look`, because they change
while the app runs: a .kv that says `look.text` follows by itself.
"""

from functools import lru_cache
from math import ceil
from pathlib import Path
from typing import Any, Protocol
from weakref import WeakSet

from kivy import kivy_data_dir
from kivy.core.text import LabelBase
from kivy.event import EventDispatcher
from kivy.metrics import dp
from kivy.properties import ColorProperty, ObjectProperty, StringProperty

from assets import FONTS
from fieldapp.report.colours import BRIGHT, DARK, MEANINGS, Palette
from fieldapp.ui.density import DP_PER_MM


def mm(length: float) -> int:
    """Give a length on the glass in whole pixels, rounded up: the least stays the least."""
    return ceil(dp(length * DP_PER_MM) - 0.01)


PX_PER_MM = float(dp(DP_PER_MM))

MAIN_HEIGHT = mm(20)
TOUCH = mm(15)
GAP = mm(3)
EDGE = mm(2)
PADDING = mm(2.5)
CORNER = mm(2)
HAIR = max(1, round(dp(2)))
MARK = mm(6.5)
HEADER_HEIGHT = TOUCH + 2 * mm(0.8)
LINE_HEIGHT = mm(5.8)

SMALLEST_TEXT = ceil(dp(24))
SMALL_TEXT = SMALLEST_TEXT
KEY_TEXT = ceil(dp(27))
BODY_TEXT = ceil(dp(27))
TITLE_TEXT = ceil(dp(32))
CHIP_TEXT = ceil(dp(40))
VALUE_TEXT = ceil(dp(76))

HOLD_S = 0.8
"""How long a key that signs or closes a heading is held."""


class Painted(Protocol):
    """What is painted in the look's colours by its own code, not by a .kv."""

    def recolour(self) -> None:
        """Take the colours that the look has now."""


class Look(EventDispatcher):
    """The colours in use. Setting `palette` repaints everything.

    `badge` stands on every header and sheet, such as that this mine is invented: it is told
    once, here, so that no screen can forget it.
    """

    palette = ObjectProperty(DARK)
    badge = StringProperty()
    ground = ColorProperty()
    panel = ColorProperty()
    key = ColorProperty()
    key_pressed = ColorProperty()
    outline = ColorProperty()
    faint = ColorProperty()
    text = ColorProperty()
    quiet = ColorProperty()
    lamp = ColorProperty()
    lamp_ink = ColorProperty()
    accept = ColorProperty()
    rework = ColorProperty()
    no_entry = ColorProperty()
    measures = ColorProperty()
    mark_ink = ColorProperty()

    def __init__(self) -> None:
        super().__init__()
        self._painted: WeakSet[Painted] = WeakSet()
        self.on_palette(self, self.palette)

    def on_palette(self, _look: object, palette: Palette) -> None:
        for meaning in MEANINGS:
            setattr(self, meaning, (*palette.rgb(meaning), 1))
        for each in tuple(self._painted):
            each.recolour()

    def paints(self, each: Painted) -> None:
        """Have it recoloured with every new palette, as long as it is there.

        Kivy's own weak bindings stay when what they led to is gone, and each new one is compared
        with all of them.
        """
        self._painted.add(each)

    def use(self, name: str) -> None:
        """Take the dark look, or the bright one for reflections and the surface."""
        self.palette = LOOKS[name]


def paint_window(window: Any) -> None:
    """Give the window itself the look's ground, now and whenever the look changes."""

    def follow(*_: object) -> None:
        window.clearcolor = look.ground

    look.fbind("ground", follow)
    follow()


LOOKS = {"dark": DARK, "bright": BRIGHT}

look = Look()

LETTERS = "B612"
OTHER_LETTERS = "Noto Sans"
LAST_LETTERS = "DejaVuSans"
"""Ships with Kivy; has arrows and signs beside letters that the other two lack."""

FONT_FILES = {
    LETTERS: (FONTS / "B612-Regular.ttf", FONTS / "B612-Bold.ttf"),
    OTHER_LETTERS: (FONTS / "NotoSans-Regular.ttf", FONTS / "NotoSans-Bold.ttf"),
    LAST_LETTERS: (Path(kivy_data_dir) / "fonts" / "DejaVuSans.ttf",) * 2,
}

for _name, (_regular, _bold) in FONT_FILES.items():
    LabelBase.register(_name, str(_regular), fn_bold=str(_bold))

USUAL_LETTERS = frozenset(map(chr, (*range(0x20, 0x7F), *range(0xA0, 0x100)))) | frozenset(
    "\n–—‘’“”•…−≤≥←→↑↓√✓½"
)
"""What B612 is known to have, so that no font has to be opened for a usual line of text."""


@lru_cache(maxsize=8)
def letters_of(name: str) -> frozenset[str]:
    """Give every letter that a font draws. Reads the font's file, once."""
    from fontTools.ttLib import TTFont

    with TTFont(FONT_FILES[name][0], lazy=True) as font:
        return frozenset(map(chr, font.getBestCmap()))


@lru_cache(maxsize=4096)
def font_for(text: str) -> str:
    """Name the first font that lacks fewest letters of `text`.

    SDL draws an empty box for a letter that a font lacks and never looks into another font.
    """
    wanted = frozenset(text)
    if wanted <= USUAL_LETTERS:
        return LETTERS
    return min(FONT_FILES, key=lambda name: len(wanted - letters_of(name)))
