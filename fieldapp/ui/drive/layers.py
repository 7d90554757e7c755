"""The layers of the map on a canvas: ground, bolts, what lies over them, tags, the ring."""

from dataclasses import dataclass, replace
from functools import partial
from itertools import compress

import numpy as np
from kivy.graphics import InstructionGroup, PopMatrix, PushMatrix, Translate
from kivy.graphics.texture import Texture

from fieldapp.report.shapes import Drawing, Place
from fieldapp.ui import theme
from fieldapp.ui.drive.atlas import INK_AT, ink_texture, mark_atlas
from fieldapp.ui.drive.letters import word_texture
from fieldapp.ui.drive.meshes import add_quads, add_words
from fieldapp.ui.drive.painter import (
    Centres,
    Scale,
    figure_corners,
    mark_centres,
    mark_quads,
    paint_ground,
    paint_over,
)
from fieldapp.ui.drive.strokes import Pixel, Strokes, circle_points
from fieldapp.ui.drive.tags import PlacedTag, place_tags
from fieldapp.ui.drive.view import View
from fieldapp.ui.theme import look

TAG_SIDE_MM, TAG_TOP_MM = 1.4, 0.7


@dataclass(frozen=True)
class _Figure:
    """What one bolt carries, and where it stands on the glass."""

    bolt: Place
    word: Texture
    corner: Pixel


class Layers:
    """Paints a drawing at one scale; afterwards panning moves one matrix.

    `centres` are the middles of the marks, in pixels from the ground's lower left corner.
    """

    def __init__(self, canvas: InstructionGroup) -> None:
        self._shift = Translate(0, 0)
        self._painted, self._ring = InstructionGroup(), InstructionGroup()
        self._scale: Scale | None = None
        self.centres: Centres = np.empty((0, 2), dtype=np.float32)
        for part in (PushMatrix(), self._shift, self._painted, self._ring, PopMatrix()):
            canvas.add(part)

    def paint(self, drawing: Drawing, view: View) -> None:
        """Paint everything anew, for a new drawing, scale or palette."""
        scale = self._scale = Scale(replace(view, left_px=0, bottom_px=0), theme.PX_PER_MM)
        below, above = Strokes(INK_AT), Strokes(INK_AT)
        paint_ground(drawing, scale, below)
        paint_over(drawing, scale, above)
        placed = place_tags(drawing, scale, partial(_tag_size, scale))
        for tag in placed:
            below.line([tag.point, tag.near], scale.mm(0.35), drawing.tags[tag.number].colour)
        ink = ink_texture(look.palette)
        self._painted.clear()
        add_quads(self._painted, below.quads, ink)
        figures = _figures(drawing, scale)
        self._add_bolts(drawing, scale, {figure.bolt for figure in figures})
        self._add_figures(figures)
        add_quads(self._painted, above.quads, ink)
        self._add_tags(drawing, placed, scale)
        self.move(view)

    def move(self, view: View) -> None:
        """Follow a pan."""
        self._shift.x, self._shift.y = view.left_px, view.bottom_px

    def ring(self, place: tuple[float, float] | None, ink: str) -> None:
        """Put a ring around a place, or take it away."""
        self._ring.clear()
        if place is None or self._scale is None:
            return
        scale, strokes = self._scale, Strokes(INK_AT)
        radius = scale.mark_px / 2 + scale.mm(1.6)
        strokes.line(circle_points(scale.at(*place), radius), scale.mm(0.9), ink)
        add_quads(self._ring, strokes.quads, ink_texture(look.palette))

    def _add_bolts(self, drawing: Drawing, scale: Scale, figured: set[Place]) -> None:
        """Paint each bolt's mark where no figure stands in its place; a finger finds them all."""
        atlas = mark_atlas(scale.mark_px, look.palette)
        self.centres = mark_centres(drawing, scale)
        marked = [(it.x_m, it.s_m) not in figured for it in drawing.bolts]
        cells = [atlas.cells[it.state, it.old] for it in compress(drawing.bolts, marked)]
        corners = np.array(cells, dtype=np.float32).reshape(-1, 2)
        centres = self.centres[np.array(marked, dtype=bool)]
        quads = mark_quads(centres, corners, atlas.side_px, atlas.cell_share)
        add_quads(self._painted, quads, atlas.texture)

    def _add_figures(self, figures: list[_Figure]) -> None:
        strokes = Strokes(INK_AT)
        for figure in figures:
            size = float(figure.word.width), float(figure.word.height)
            strokes.area(figure.corner, size, "ground")
        add_quads(self._painted, strokes.quads, ink_texture(look.palette))
        for figure in figures:
            add_words(self._painted, figure.word, figure.corner, look.text)

    def _add_tags(self, drawing: Drawing, placed: list[PlacedTag], scale: Scale) -> None:
        strokes = Strokes(INK_AT)
        for tag in placed:
            corner, size = (tag.box.x, tag.box.y), (tag.box.wide, tag.box.high)
            strokes.area(corner, size, "ground")
            strokes.box(corner, size, scale.mm(0.4), drawing.tags[tag.number].colour, scale.mm(1))
        add_quads(self._painted, strokes.quads, ink_texture(look.palette))
        for tag in placed:
            corner = (tag.box.x + scale.mm(TAG_SIDE_MM), tag.box.y + scale.mm(TAG_TOP_MM))
            add_words(self._painted, _tag_words(tag.text), corner, look.text)


def _figures(drawing: Drawing, scale: Scale) -> list[_Figure]:
    words = [word_texture(cell.figure, bold=True) for cell in drawing.cells]
    sizes = [(float(it.width), float(it.height)) for it in words]
    corners = figure_corners(drawing, scale, sizes)
    return [
        _Figure((cell.x_m, cell.s_m), word, corner)
        for cell, word, corner in zip(drawing.cells, words, corners, strict=True)
        if corner is not None
    ]


def _tag_words(text: str) -> Texture:
    return word_texture(text, bold=True)


def _tag_size(scale: Scale, text: str) -> Pixel:
    word, side, top = _tag_words(text), scale.mm(TAG_SIDE_MM), scale.mm(TAG_TOP_MM)
    return word.width + 2 * side, word.height + 2 * top
