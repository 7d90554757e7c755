"""The two textures of the map: every colour of a stroke, and every mark of a bolt."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from kivy.graphics.texture import Texture

from fieldapp.report.colours import MEANINGS, Palette
from fieldapp.report.mark_pixels import mark_picture
from fieldapp.report.marks import BOLT_MARKS
from fieldapp.ui.drive.strokes import FADE_TEXELS, TEXELS_PER_PX

ROW_TEXELS = 4
"""A colour's row is so thick that its middle never blends with its neighbours."""
INK_ROWS = 64
VEIL = 0.24
"""How much of an area's colour covers what lies below it."""

INKS = (*MEANINGS, *(f"{meaning} veil" for meaning in MEANINGS))
INK_AT = {ink: (row + 0.5) * ROW_TEXELS / (INK_ROWS * ROW_TEXELS) for row, ink in enumerate(INKS)}
"""Where each ink lies in the texture, from 0 to 1."""


@lru_cache(maxsize=4)
def ink_texture(palette: Palette) -> Texture:
    """Make the texture of all inks: across, how solid a stroke is; down, its colour."""
    pixels = np.zeros((INK_ROWS, FADE_TEXELS, 4), dtype=np.uint8)
    solid = np.clip(np.arange(FADE_TEXELS) / TEXELS_PER_PX, 0, 1) * 255
    for row, ink in enumerate(INKS):
        meaning = ink.removesuffix(" veil")
        pixels[row, :, :3] = [round(part * 255) for part in palette.rgb(meaning)]
        pixels[row, :, 3] = solid * (VEIL if meaning != ink else 1)
    return _texture(np.repeat(pixels, ROW_TEXELS, axis=0))


@dataclass(frozen=True)
class MarkAtlas:
    """All marks of bolts at one size. `cells` gives where each lies in the texture."""

    texture: Texture
    side_px: int
    cells: dict[tuple[str, bool], tuple[float, float]]
    cell_share: tuple[float, float]


@lru_cache(maxsize=8)
def mark_atlas(side_px: int, palette: Palette) -> MarkAtlas:
    """Draw every mark, for new and for old rows, side by side.

    Under each mark lies a patch of ground, so that no hatching runs through it. The texture's
    sides are powers of two: other sides come out stretched.
    """
    keys = [(state, old) for state in BOLT_MARKS for old in (False, True)]
    cell = side_px + 4
    columns = _power_of_two(cell * 4) // cell
    lines = -(-len(keys) // columns)
    high, wide = _power_of_two(lines * cell), _power_of_two(columns * cell)
    pixels = np.zeros((high, wide, 4), dtype=np.uint8)
    cells = {}
    for number, (state, old) in enumerate(keys):
        line, column = divmod(number, columns)
        y, x = line * cell, column * cell
        pixels[y : y + cell, x : x + cell] = _cell(state, side_px, palette, old=old)
        cells[state, old] = (x / wide, y / high)
    return MarkAtlas(_texture(pixels), cell, cells, (cell / wide, cell / high))


def _cell(
    state: str, side_px: int, palette: Palette, *, old: bool
) -> np.ndarray[tuple[int, ...], np.dtype[np.uint8]]:
    colour = "outline" if old and BOLT_MARKS[state].colour == "text" else ""
    mark = np.asarray(mark_picture(BOLT_MARKS[state], side_px, palette, colour), dtype=np.float32)
    cell = np.zeros((side_px + 4, side_px + 4, 4), dtype=np.uint8)
    ground = np.array([round(part * 255) for part in palette.rgb("ground")], dtype=np.float32)
    cell[1:-1, 1:-1, :3], cell[1:-1, 1:-1, 3] = ground, 255
    cover = mark[..., 3:] / 255
    # Row 0 of a texture lies at the bottom.
    blended = mark[..., :3] * cover + ground * (1 - cover)
    cell[2:-2, 2:-2, :3] = np.rint(blended)[::-1]
    return cell


def _texture(pixels: np.ndarray[tuple[int, ...], np.dtype[np.uint8]]) -> Texture:
    high, wide, _ = pixels.shape
    texture = Texture.create(size=(wide, high), colorfmt="rgba")
    texture.blit_buffer(pixels.tobytes(), colorfmt="rgba", bufferfmt="ubyte")
    texture.wrap = "clamp_to_edge"
    return texture


def _power_of_two(least: int) -> int:
    return 1 << (least - 1).bit_length()
