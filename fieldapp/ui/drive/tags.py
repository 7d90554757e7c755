"""Where tags stand on the glass: near what they speak of, never over a bolt or the face."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from fieldapp.report.shapes import Box, Circle, Drawing, WantedTag, boxes_along, tag_places
from fieldapp.ui.drive.painter import Scale, mark_centres
from fieldapp.ui.drive.strokes import Pixel

NEIGHBOURS_MM = 70.0
"""No tag is moved farther than this from its point."""
APART_MM = 0.6
FACE_HALF_MM = 0.5


@dataclass(frozen=True)
class PlacedTag:
    """A tag that found room: its number in the drawing, its box, the point it speaks of."""

    number: int
    box: Box
    point: Pixel
    text: str
    """Its words, or the number that stands for them."""

    @property
    def near(self) -> Pixel:
        """The point of its box that lies nearest to what it speaks of."""
        x = min(max(self.point[0], self.box.x), self.box.x + self.box.wide)
        y = min(max(self.point[1], self.box.y), self.box.y + self.box.high)
        return x, y


def place_tags(drawing: Drawing, scale: Scale, size_of: Callable[[str], Pixel]) -> list[PlacedTag]:
    """Find room for tags, clear of laps and of marks of damage too where that can be had.

    None stands nearer to the mark of another place than to its own. A tag for which there is no
    such room that hides no bolt, no face and no other tag is only its number, where it has one;
    else it is left out until the scale is larger. What it says stands in a list as well.
    """
    points = [scale.at(tag.x_m, tag.s_m) for tag in drawing.tags]
    hidden = [*_bolt_boxes(drawing, scale, points), *_face_boxes(drawing, scale)]
    marked = [scale.at(it.x_m, it.s_m) for it in _marks(drawing)]
    better_seen = [*_lap_boxes(drawing, scale), *_mark_boxes(drawing, scale)]
    placed: list[PlacedTag] = []
    for number, (point, tag) in enumerate(zip(points, drawing.tags, strict=True)):
        taken = [*hidden, *(it.box for it in placed)]
        for text in filter(None, (tag.text, tag.number)):
            wanted = WantedTag(*point, *size_of(text))
            found = _clear(wanted, scale, [*taken, *better_seen], marked)
            found = found or _clear(wanted, scale, taken, marked)
            if found is not None:
                placed.append(PlacedTag(number, found, point, text))
                break
    return placed


def _clear(wanted: WantedTag, scale: Scale, taken: list[Box], marked: list[Pixel]) -> Box | None:
    (place,) = tag_places([wanted], taken, _room(scale), scale.mm(APART_MM), marked)
    return place


def _room(scale: Scale) -> Box:
    """Give the ground, and the free glass around ground that is smaller than the window."""
    view = scale.view
    wide, high = scale.at(view.ground.x_to_m, view.ground.s_to_m)
    beside = max(view.window.width - wide, 0.0)
    above = max(view.window.height - high, 0.0)
    return Box(-beside / 2, -above / 2, wide + beside, high + above)


def _bolt_boxes(drawing: Drawing, scale: Scale, points: list[Pixel]) -> list[Box]:
    if not points or not drawing.bolts:
        return []
    centres = mark_centres(drawing, scale)
    apart = np.abs(centres[:, None, :] - np.array(points)[None]).max(axis=2).min(axis=1)
    half = scale.mark_px / 2 + 2
    return [
        Box(float(x) - half, float(y) - half, 2 * half, 2 * half)
        for x, y in centres[apart < scale.mm(NEIGHBOURS_MM)]
    ]


def _face_boxes(drawing: Drawing, scale: Scale) -> list[Box]:
    places = drawing.face.places if drawing.face is not None else ()
    return boxes_along([scale.at(*place) for place in places], scale.mm(FACE_HALF_MM))


def _mark_boxes(drawing: Drawing, scale: Scale) -> list[Box]:
    boxes = []
    for circle in _marks(drawing):
        x, y = scale.at(circle.x_m, circle.s_m)
        half = circle.diameter_m / 2 * scale.view.px_per_m
        boxes.append(Box(x - half, y - half, 2 * half, 2 * half))
    return boxes


def _marks(drawing: Drawing) -> Iterator[Circle]:
    """Give the marks of single places; a larger circle is a gap, with room inside for a tag."""
    return (it for it in drawing.circles if it.diameter_m <= LARGEST_MARK_M)


def _lap_boxes(drawing: Drawing, scale: Scale) -> list[Box]:
    boxes = []
    for band in drawing.bands if len(drawing.bands) < MOST_BANDS else ():
        left, bottom = scale.at(band.x_from_m, band.s_from_m)
        right, top = scale.at(band.x_to_m, band.s_to_m)
        boxes.append(Box(left, bottom, right - left, top - bottom))
    return boxes


LARGEST_MARK_M = 1.0
MOST_BANDS = 40
"""More laps than these are a long drive, where tags have to take what room there is."""
