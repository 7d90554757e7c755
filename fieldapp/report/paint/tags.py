"""Paints the tags of the unrolled drive where they hide no bolt, no face and no other tag."""

from math import hypot

from fieldapp.report.letters import CAPITAL, MM_PER_POINT, width_mm
from fieldapp.report.paint.frame import DriveFrame
from fieldapp.report.pens.pen import Line, Pen, Type, rounded_box
from fieldapp.report.shapes import Box, Tag, WantedTag, boxes_along, tag_places

TAG_PT = 7.5
TAG_SIDE_MM = 1.1
TAG_TOP_MM = 0.75
APART_MM = 0.5
FACE_HALF_MM = 0.4
LEADER_FROM_MM = 1.5
_CAPITAL_MM = TAG_PT * MM_PER_POINT * CAPITAL


def paint_tags(pen: Pen, frame: DriveFrame, mark_half_mm: float) -> None:
    """Paint every tag of the drawing, with a leader where it had to move away."""
    tags = frame.drawing.tags
    for tag, place in zip(tags, placed_tags(frame, mark_half_mm), strict=True):
        if place is None:
            continue
        _leader(pen, frame, tag, place)
        outline = rounded_box((place.x, place.y), (place.wide, place.high), 0.9)
        pen.fill(outline, "ground")
        pen.stroke(outline, Line(tag.colour, 0.3), closed=True)
        at = (place.x + place.wide / 2, place.y + (place.high + _CAPITAL_MM) / 2)
        pen.write(tag.text, at, Type(TAG_PT, bold=True, align="middle"))


def placed_tags(frame: DriveFrame, mark_half_mm: float) -> tuple[Box | None, ...]:
    """Find a box for every tag, in their order; None where there is no room for one."""
    room = Box(
        frame.left_mm, frame.top_mm, frame.right_mm - frame.left_mm, frame.bottom_mm - frame.top_mm
    )
    wanted = [_wanted(frame, tag) for tag in frame.drawing.tags]
    taken = [*_bolt_boxes(frame, mark_half_mm), *_face_boxes(frame)]
    return tag_places(wanted, taken, room, APART_MM)


def _wanted(frame: DriveFrame, tag: Tag) -> WantedTag:
    x, y = frame.at(tag.x_m, tag.s_m)
    wide = width_mm(tag.text, TAG_PT, bold=True) + 2 * TAG_SIDE_MM
    return WantedTag(x, y, wide, _CAPITAL_MM + 2 * TAG_TOP_MM)


def _bolt_boxes(frame: DriveFrame, half: float) -> list[Box]:
    boxes = []
    for bolt in frame.drawing.bolts:
        x, y = frame.at(bolt.x_m, bolt.s_m)
        boxes.append(Box(x - half, y - half, 2 * half, 2 * half))
    return boxes


def _face_boxes(frame: DriveFrame) -> list[Box]:
    places = frame.drawing.face.places if frame.drawing.face else ()
    return boxes_along([frame.at(x_m, s_m) for x_m, s_m in places], FACE_HALF_MM)


def _leader(pen: Pen, frame: DriveFrame, tag: Tag, place: Box) -> None:
    x, y = frame.at(tag.x_m, tag.s_m)
    near = (
        min(max(x, place.x), place.x + place.wide),
        min(max(y, place.y), place.y + place.high),
    )
    if hypot(near[0] - x, near[1] - y) > LEADER_FROM_MM:
        pen.stroke([(x, y), near], Line(tag.colour, 0.25))
