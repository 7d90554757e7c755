"""A photo with what was drawn over it, as a picture of its own: for reports and copies."""

from typing import Final

from PIL import Image, ImageDraw, ImageFont

from fieldapp.report.colours import DARK, Palette
from fieldapp.report.letters import FAMILIES, font_file
from fieldapp.report.photo_shapes import At, Shape, Stroke, Tag, Tapped

WIDE: Final = 0.004
"""Of a line, as a share of the photo's longer edge."""
_RING: Final = 0.012
_LETTERS: Final = 0.022
_CASING: Final = 2.0
"""A dark line so many times wider lies under each: it is seen on rock as well as on steel."""

_Draw = ImageDraw.ImageDraw


def painted(photo: Image.Image, shapes: tuple[Shape, ...], palette: Palette = DARK) -> Image.Image:
    """Give a copy of a photo, upright, with shapes on it. The photo itself is left as it is."""
    picture = photo.convert("RGB")
    if picture is photo:
        picture = photo.copy()
    pen = _Painter(picture, palette)
    for shape in sorted(shapes, key=lambda shape: isinstance(shape, Tag)):
        pen.paint(shape)
    return picture


class _Painter:
    def __init__(self, picture: Image.Image, palette: Palette) -> None:
        self._size, self._palette = picture.size, palette
        self._draw: _Draw = ImageDraw.Draw(picture)
        self._edge = max(picture.size)

    def paint(self, shape: Shape) -> None:
        if isinstance(shape, Stroke):
            self._stroke(shape)
        elif isinstance(shape, Tapped):
            self._tapped(shape)
        else:
            self._tag(shape)

    def _stroke(self, shape: Stroke) -> None:
        points = [self._at(at) for at in shape.points]
        points += points[:1] if shape.closed else []
        for colour, wide in self._casing_and(shape.colour):
            self._draw.line(points, fill=colour, width=wide, joint="curve")

    def _tapped(self, shape: Tapped) -> None:
        (x, y), far = self._at(shape.at), _RING * self._edge
        for colour, wide in self._casing_and(shape.colour):
            self._draw.ellipse((x - far, y - far, x + far, y + far), outline=colour, width=wide)

    def _tag(self, shape: Tag) -> None:
        font = ImageFont.truetype(
            str(font_file(FAMILIES[0], bold=True)), max(12, round(_LETTERS * self._edge))
        )
        around = font.size * 0.4
        left, top, right, bottom = self._draw.textbbox((0, 0), shape.text, font, anchor="lm")
        x, y = self._at(shape.at)
        x = min(max(x, around), self._size[0] - (right - left) - around)
        box = (x - around, y + top - around, x + right + around, y + bottom + around)
        colour = getattr(self._palette, shape.colour)
        self._draw.rounded_rectangle(
            box, around, fill=self._palette.ground, outline=colour, width=self._wide // 2 or 1
        )
        self._draw.text((x, y), shape.text, colour, font, anchor="lm")

    @property
    def _wide(self) -> int:
        return max(2, round(WIDE * self._edge))

    def _casing_and(self, colour: str) -> tuple[tuple[str, int], ...]:
        ground, ink = self._palette.ground, getattr(self._palette, colour)
        return (ground, round(self._wide * _CASING)), (ink, self._wide)

    def _at(self, at: At) -> At:
        return at[0] * self._size[0], at[1] * self._size[1]
