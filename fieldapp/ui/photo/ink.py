"""Paints a photo's shapes onto the glass: those of `report/photo_shapes`, as paper has them."""

from collections.abc import Callable, Iterable

from kivy.graphics import Color, Line, Rectangle, SmoothRoundedRectangle
from kivy.graphics.instructions import InstructionGroup

from fieldapp.report.photo_shapes import At, Shape, Stroke, Tag, Tapped
from fieldapp.ui import theme
from fieldapp.ui.drive.letters import word_texture
from fieldapp.ui.theme import look

WIDTH = theme.mm(0.5)
RING = theme.mm(2.6)
RING_WIDTH = theme.mm(0.25)
AROUND = theme.mm(1)
CASING = 1.9
"""A dark line so many times wider lies under each: it is seen on rock as well as on steel."""

Pixel = tuple[float, float]
ToGlass = Callable[[At], Pixel]


def paint(group: InstructionGroup, shapes: Iterable[Shape], to_glass: ToGlass) -> None:
    """Paint shapes in place of what is in the group, words last."""
    group.clear()
    for shape in sorted(shapes, key=lambda shape: isinstance(shape, Tag)):
        if isinstance(shape, Stroke):
            _stroke(group, shape, to_glass)
        elif isinstance(shape, Tapped):
            _tapped(group, shape, to_glass)
        else:
            _tag(group, shape, to_glass)


def _stroke(group: InstructionGroup, shape: Stroke, to_glass: ToGlass) -> None:
    points = [value for at in shape.points for value in to_glass(at)]
    for colour, width in _casing_and(shape.colour):
        group.add(Color(*colour))
        group.add(Line(points=points, width=width, close=shape.closed, joint="round"))


def _tapped(group: InstructionGroup, shape: Tapped, to_glass: ToGlass) -> None:
    for colour, width in _casing_and(shape.colour, RING_WIDTH):
        group.add(Color(*colour))
        group.add(Line(circle=(*to_glass(shape.at), RING), width=width))


def _tag(group: InstructionGroup, shape: Tag, to_glass: ToGlass) -> None:
    words = word_texture(shape.text, theme.SMALL_TEXT, bold=True)
    x, y = to_glass(shape.at)
    wide, high = words.width + 2 * AROUND, words.height + AROUND
    left, bottom = min(x + RING * 1.5, to_glass((1, 0))[0] - wide), y - high / 2
    if left < x + RING:  # no room beside it: it never lies over its own place
        below = y - RING * 1.5 - high
        bottom = below if below > to_glass((0, 1))[1] else y + RING * 1.5
    for colour, edge in ((_rgba(shape.colour), theme.HAIR), (look.ground, 0)):
        group.add(Color(*colour))
        box = {"pos": (left - edge, bottom - edge), "size": (wide + 2 * edge, high + 2 * edge)}
        group.add(SmoothRoundedRectangle(radius=[theme.CORNER / 2], **box))
    group.add(Color(*_rgba(shape.colour)))
    group.add(Rectangle(texture=words, pos=(left + AROUND, bottom + AROUND / 2), size=words.size))


def _casing_and(colour: str, width: float = WIDTH) -> tuple[tuple[tuple[float, ...], float], ...]:
    return (tuple(look.ground), width * CASING), (_rgba(colour), width)


def _rgba(colour: str) -> tuple[float, ...]:
    return tuple(getattr(look, colour))
