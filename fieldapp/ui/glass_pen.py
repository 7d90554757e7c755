"""A pen that paints on the glass what others paint on paper, in millimetres from a corner."""

from collections.abc import Sequence

from kivy.graphics import InstructionGroup

from fieldapp.report.letters import MM_PER_POINT
from fieldapp.report.pens.pen import Line, Point, Type
from fieldapp.ui import theme
from fieldapp.ui.drive.atlas import INK_AT, ink_texture
from fieldapp.ui.drive.letters import below_baseline, word_texture
from fieldapp.ui.drive.meshes import add_quads, add_words
from fieldapp.ui.drive.strokes import Pixel, Strokes, circle_points
from fieldapp.ui.theme import look

SMALLEST_PT = theme.SMALLEST_TEXT / theme.PX_PER_MM / MM_PER_POINT
"""What the smallest letters of the glass are in points."""


class GlassPen:
    """Collects strokes and words; `put` brings them onto a canvas, words above the strokes.

    `corner` is the upper left corner on the glass, in pixels.
    """

    def __init__(self, corner: Pixel) -> None:
        self._corner = corner
        self._strokes = Strokes(INK_AT)
        self._words: list[tuple[str, Point, Type]] = []

    def stroke(self, points: Sequence[Point], line: Line, *, closed: bool = False) -> None:
        """Draw a line."""
        places = [self.at(it) for it in points]
        width = max(1.0, line.width_mm * theme.PX_PER_MM)
        if line.dash_mm:
            around = [*places, *places[: 1 if closed else 0]]
            self._strokes.dashed(around, width, line.colour, line.dash_mm * theme.PX_PER_MM)
        else:
            self._strokes.line(places, width, line.colour, closed=closed)

    def fill(self, points: Sequence[Point], colour: str) -> None:
        """Fill a polygon that bulges nowhere inwards."""
        self._strokes.polygon([self.at(it) for it in points], colour)

    def disc(self, centre: Point, radius_mm: float, colour: str) -> None:
        """Fill a circle."""
        self._strokes.disc(self.at(centre), radius_mm * theme.PX_PER_MM, colour)

    def circle(self, centre: Point, radius_mm: float, line: Line) -> None:
        """Draw a circle's line."""
        around = circle_points(self.at(centre), radius_mm * theme.PX_PER_MM)
        self._strokes.line(around, line.width_mm * theme.PX_PER_MM, line.colour)

    def write(self, text: str, at: Point, kind: Type) -> None:
        """Write one line of text."""
        self._words.append((text, at, kind))

    def at(self, point: Point) -> Pixel:
        """Give where a point lies on the glass."""
        left, top = self._corner
        return left + point[0] * theme.PX_PER_MM, top - point[1] * theme.PX_PER_MM

    def put(self, canvas: InstructionGroup) -> None:
        """Bring everything that was painted onto a canvas."""
        add_quads(canvas, self._strokes.quads, ink_texture(look.palette))
        for text, at, kind in self._words:
            size = round(kind.size_pt * MM_PER_POINT * theme.PX_PER_MM)
            texture = word_texture(text, size, bold=kind.bold)
            x, y = self.at(at)
            x -= {"left": 0.0, "middle": 0.5, "right": 1.0}[kind.align] * texture.width
            corner = (x, y - below_baseline(text, size, bold=kind.bold))
            add_words(canvas, texture, corner, getattr(look, kind.colour))
