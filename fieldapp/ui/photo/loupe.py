"""What lies under a finger, made larger above it, with a cross where the tap will be."""

from typing import Any, Final

from kivy.graphics import Color, Line, Rectangle
from kivy.graphics.instructions import Canvas, InstructionGroup

from fieldapp.ui import theme
from fieldapp.ui.theme import look

LOUPE: Final = 3.0
"""So many times larger than the photo lies under the finger."""
SIDE: Final = theme.mm(34)
ABOVE: Final = theme.mm(12)
CROSS: Final = theme.mm(5)


class Loupe:
    """A square that follows a finger."""

    def __init__(self, canvas: Canvas) -> None:
        self._group = InstructionGroup()
        canvas.add(self._group)

    def hide(self) -> None:
        """Take it away."""
        self._group.clear()

    def show(self, photo: Any, pixel: tuple[float, float]) -> None:
        """Show what lies at a pixel of the glass on a `PhotoView`."""
        self._group.clear()
        left, bottom = _place(photo.ids.field, pixel)
        self._group.add(Color(*look.lamp))
        edge = theme.HAIR * 2
        self._group.add(Rectangle(pos=(left - edge, bottom - edge), size=(SIDE + 2 * edge,) * 2))
        self._group.add(Color(*look.ground))
        self._group.add(Rectangle(pos=(left, bottom), size=(SIDE, SIDE)))
        self._group.add(Color(1, 1, 1, 1))
        self._under(photo, pixel, (left, bottom))
        middle = (left + SIDE / 2, bottom + SIDE / 2)
        for colour, width in ((look.ground, 2.4), (look.lamp, 1.2)):
            self._group.add(Color(*colour))
            for points in _cross(middle):
                self._group.add(Line(points=points, width=width))

    def _under(self, photo: Any, pixel: tuple[float, float], corner: tuple[float, float]) -> None:
        """Put the part of the photo that is in sight into the square, and no more of it."""
        x, y = photo.at(pixel)
        wide = photo.wide_px
        half_x, half_y = SIDE / LOUPE / 2 / wide, SIDE / LOUPE / 2 / (wide * photo.aspect)
        left, right = max(x - half_x, 0), min(x + half_x, 1)
        top, low = max(y - half_y, 0), min(y + half_y, 1)
        texture = photo.texture.get_region(
            left * photo.texture.width,
            (1 - low) * photo.texture.height,
            max((right - left) * photo.texture.width, 1),
            max((low - top) * photo.texture.height, 1),
        )
        pos = (
            corner[0] + (left - (x - half_x)) / (2 * half_x) * SIDE,
            corner[1] + ((y + half_y) - low) / (2 * half_y) * SIDE,
        )
        size = ((right - left) / (2 * half_x) * SIDE, (low - top) / (2 * half_y) * SIDE)
        self._group.add(Rectangle(texture=texture, pos=pos, size=size))


def _place(field: Any, pixel: tuple[float, float]) -> tuple[float, float]:
    """Stand above the finger; below it where there is no room, and always on the field."""
    bottom = pixel[1] + ABOVE
    if bottom + SIDE > field.top:
        bottom = pixel[1] - ABOVE - SIDE
    left = pixel[0] - SIDE / 2
    return (
        min(max(left, field.x), field.right - SIDE),
        min(max(bottom, field.y), field.top - SIDE),
    )


def _cross(middle: tuple[float, float]) -> tuple[tuple[float, ...], ...]:
    x, y = middle
    gap = theme.mm(0.8)
    return (
        (x - CROSS, y, x - gap, y),
        (x + gap, y, x + CROSS, y),
        (x, y - CROSS, x, y - gap),
        (x, y + gap, x, y + CROSS),
    )
