"""A mark as a small picture, smooth at any size: for the screen's textures and for PNG."""

from math import cos, pi, sin

from PIL import Image, ImageDraw

from fieldapp.report.colours import Palette, rgb
from fieldapp.report.marks import Disc, MarkShape, Piece, Point, Polygon, Ring, Stroke

FINER = 6
"""Pieces are drawn so many times larger and then shrunk, which smooths their edges."""


def mark_picture(mark: MarkShape, size_px: int, palette: Palette, colour: str = "") -> Image.Image:
    """Draw a mark on nothing. `colour` replaces the meaning of its colour.

    Colour and cover are shrunk apart: shrinking them together darkens the edges.
    """
    large = size_px * FINER
    ink = {
        "mark": _bytes(getattr(palette, colour or mark.colour)),
        "mark_ink": _bytes(palette.mark_ink),
    }
    colours = Image.new("RGB", (large, large), ink["mark"])
    cover = Image.new("L", (large, large), 0)
    for piece in mark.pieces:
        _draw(ImageDraw.Draw(cover), piece, large, 255)
        if piece.ink == "mark_ink":
            _draw(ImageDraw.Draw(colours), piece, large, ink["mark_ink"])
    small = (size_px, size_px)
    picture = colours.resize(small, Image.Resampling.BOX).convert("RGBA")
    picture.putalpha(cover.resize(small, Image.Resampling.BOX))
    return picture


def _bytes(colour: str) -> tuple[int, int, int]:
    red, green, blue = (round(part * 255) for part in rgb(colour))
    return red, green, blue


def _draw(
    draw: ImageDraw.ImageDraw, piece: Piece, large: int, ink: int | tuple[int, int, int]
) -> None:
    scale = large / 2

    def at(point: Point) -> Point:
        return (1 + point[0]) * scale, (1 - point[1]) * scale

    match piece:
        case Disc(centre, radius):
            _disc(draw, at(centre), radius * scale, ink)
        case Ring(centre, radius, width, dashes):
            _ring(draw, at(centre), (radius * scale, width * scale), dashes, ink)
        case Polygon(points):
            draw.polygon([at(point) for point in points], fill=ink)
        case Stroke(points, width, closed):
            line = [at(point) for point in (*points, *points[: 1 if closed else 0])]
            draw.line(line, fill=ink, width=round(width * scale))
            for end in line:
                _disc(draw, end, width * scale / 2, ink)


def _disc(
    draw: ImageDraw.ImageDraw, centre: Point, radius: float, ink: int | tuple[int, int, int]
) -> None:
    x, y = centre
    draw.ellipse((x - radius, y - radius, x + radius, y + radius), fill=ink)


def _ring(
    draw: ImageDraw.ImageDraw,
    centre: Point,
    radius_and_width: tuple[float, float],
    dashes: int,
    ink: int | tuple[int, int, int],
) -> None:
    radius, width = radius_and_width
    parts = dashes or 1
    reach = 2 * pi / parts * (0.58 if dashes else 1)
    for part in range(parts):
        start = 2 * pi * part / parts + pi / 2
        steps = 96 // parts + 1
        angles = [start + reach * step / steps for step in range(steps + 1)]
        outer = [_on(centre, radius + width / 2, angle) for angle in angles]
        inner = [_on(centre, radius - width / 2, angle) for angle in reversed(angles)]
        draw.polygon(outer + inner, fill=ink)


def _on(centre: Point, radius: float, angle: float) -> Point:
    return centre[0] + radius * cos(angle), centre[1] - radius * sin(angle)
