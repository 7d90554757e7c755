"""A pen that paints a picture: the same strokes as on paper, smooth at any size."""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from io import BytesIO
from itertools import pairwise
from math import cos, hypot, pi, sin

from PIL import Image, ImageDraw, ImageFont

from fieldapp.report.colours import Palette, rgb
from fieldapp.report.letters import MM_PER_POINT, font_file, runs, width_mm
from fieldapp.report.pens.pen import Line, Point, Type

FINER = 3
"""Strokes are drawn so many times larger and then shrunk, which smooths their edges."""

_Colour = tuple[int, int, int]


class PngPen:
    """A picture of so many millimetres at so many pixels each. `png` gives the file."""

    def __init__(
        self,
        size_mm: tuple[float, float],
        px_per_mm: float,
        palette: Palette,
        *,
        finer: int = FINER,
    ) -> None:
        self._palette = palette
        self._scale = px_per_mm * finer
        self._size_px = (round(size_mm[0] * px_per_mm), round(size_mm[1] * px_per_mm))
        large = (self._size_px[0] * finer, self._size_px[1] * finer)
        self._picture = Image.new("RGB", large, self._colour("ground"))
        self._draw = ImageDraw.Draw(self._picture)

    def stroke(self, points: Sequence[Point], line: Line, *, closed: bool = False) -> None:
        """Draw a line."""
        whole = [*points, *points[: 1 if closed else 0]]
        for part in _dashes(whole, line) if line.dash_mm else [whole]:
            self._line(part, line)

    def fill(self, points: Sequence[Point], colour: str) -> None:
        """Fill a polygon."""
        self._draw.polygon([self._at(point) for point in points], fill=self._colour(colour))

    def disc(self, centre: Point, radius_mm: float, colour: str) -> None:
        """Fill a circle."""
        x, y = self._at(centre)
        radius = radius_mm * self._scale
        around = (x - radius, y - radius, x + radius, y + radius)
        self._draw.ellipse(around, fill=self._colour(colour))

    def circle(self, centre: Point, radius_mm: float, line: Line) -> None:
        """Draw a circle's line."""
        self.stroke(_on_circle(centre, radius_mm), line, closed=True)

    def write(self, text: str, at: Point, kind: Type) -> None:
        """Write one line of text, the part of it that each font draws after the other."""
        room = width_mm(text, kind.size_pt, bold=kind.bold)
        x = at[0] - {"left": 0.0, "middle": room / 2, "right": room}[kind.align]
        size_px = round(kind.size_pt * MM_PER_POINT * self._scale)
        for family, part in runs(text):
            font = _font(str(font_file(family, bold=kind.bold)), size_px)
            place = self._at((x, at[1]))
            self._draw.text(place, part, self._colour(kind.colour), font, anchor="ls")
            x += width_mm(part, kind.size_pt, bold=kind.bold)

    def png(self) -> bytes:
        """Give the finished file."""
        kept = BytesIO()
        self._picture.resize(self._size_px, Image.Resampling.BOX).save(kept, "PNG", optimize=True)
        return kept.getvalue()

    def _line(self, points: Sequence[Point], line: Line) -> None:
        ink = self._colour(line.colour)
        width_px = max(1, round(line.width_mm * self._scale))
        self._draw.line([self._at(point) for point in points], fill=ink, width=width_px)
        for point in points:
            self.disc(point, width_px / 2 / self._scale, line.colour)

    def _at(self, point: Point) -> Point:
        return point[0] * self._scale, point[1] * self._scale

    def _colour(self, meaning: str) -> _Colour:
        red, green, blue = (round(part * 255) for part in rgb(getattr(self._palette, meaning)))
        return red, green, blue


def _on_circle(centre: Point, radius_mm: float, steps: int = 120) -> list[Point]:
    turns = [2 * pi * step / steps for step in range(steps)]
    return [(centre[0] + radius_mm * cos(t), centre[1] + radius_mm * sin(t)) for t in turns]


def _dashes(points: Sequence[Point], line: Line) -> Iterator[list[Point]]:
    """Cut a line into its dashes, measured along it and around its corners."""
    drawn, left, dash = True, line.dash_mm, [points[0]]
    for (x, y), end in pairwise(points):
        here, length = (x, y), hypot(end[0] - x, end[1] - y)
        while length > left:
            share = left / length
            here = (here[0] + (end[0] - here[0]) * share, here[1] + (end[1] - here[1]) * share)
            length -= left
            if drawn:
                yield [*dash, here]
            drawn, dash = not drawn, [here]
            left = line.dash_mm if drawn else line.gap_mm or line.dash_mm
        left -= length
        dash.append(end)
    if drawn:
        yield dash


@lru_cache(maxsize=16)
def _font(path: str, size_px: int) -> ImageFont.FreeTypeFont:
    # The simplest layout: letters stand where the fonts' own tables put them, as on paper.
    return ImageFont.truetype(path, size_px, layout_engine=ImageFont.Layout.BASIC)
