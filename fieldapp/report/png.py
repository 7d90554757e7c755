"""The unrolled drive as a picture: for a message, a report, or a look without the app."""

from typing import Literal

from fieldapp.report.colours import BRIGHT, DARK, PAPER, Palette
from fieldapp.report.paint.panel import drive_panel
from fieldapp.report.pens.png import PngPen
from fieldapp.report.shapes import Drawing

Look = Literal["dark", "bright", "paper"]

_PALETTES: dict[Look, Palette] = {"dark": DARK, "bright": BRIGHT, "paper": PAPER}
EDGE_MM = 4.0
HIGHEST_MM = 400.0


def drive_png(
    drawing: Drawing, look: Look = "paper", *, wide_mm: float = 190.0, px_per_mm: float = 8.0
) -> bytes:
    """Paint a drawing with its scale bar and legend; the same drawing gives the same bytes.

    The picture is as wide as said and as high as the drawing needs at that width.
    """
    room = (wide_mm - 2 * EDGE_MM, HIGHEST_MM)
    panel = drive_panel(drawing, (EDGE_MM, EDGE_MM), room)
    size = (wide_mm, panel.high_mm + 2 * EDGE_MM)
    pen = PngPen(size, px_per_mm, _PALETTES[look])
    panel.paint(pen)
    return pen.png()
