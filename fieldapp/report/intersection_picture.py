"""An intersection in plan, to one scale: outline, span circle, bolts, cables, what is missing.

The heading runs up the picture, toward the face. Every mark has a form of its own.
"""

from dataclasses import dataclass
from math import cos, pi, sin
from typing import Final

from fieldapp.report.letters import MM_PER_POINT
from fieldapp.report.pens.pen import Line, Pen, Point, Type

Place = tuple[float, float]
"""(inbye of where it opens, right of the centre line) in metres."""

MARGIN_MM: Final = 9.0
_BOLT_MM: Final = 1.3
_CABLE_MM: Final = 2.0
_LEAST_M: Final = 1.0
_WHOLE_MM_PER_M: Final = 5.0
"""At that scale bolts a metre apart are clear of each other, and of the cables between them."""
_DASH_MM: Final = 2.0
_ARROW_MM: Final = 2.5
_AROUND: Final = tuple((cos(2 * pi * n / 72), sin(2 * pi * n / 72)) for n in range(72))


@dataclass(frozen=True)
class IntersectionPicture:
    """Everything that is drawn of one."""

    outline: tuple[Place, ...]
    span: tuple[Place, float] | None
    """The largest circle within it; None where it has no outline."""
    bolts: tuple[tuple[Place, str], ...] = ()
    """Each with its plate: "seated", "loose", "missing", "" where nobody looked."""
    cables: tuple[Place, ...] = ()
    missing: tuple[Place, ...] = ()
    """Where a bolt is demanded and none stands."""
    gap: tuple[Place, float] | None = None
    """The widest circle without a bolt, where it is a finding."""
    span_words: str = ""
    inbye_words: str = ""


@dataclass(frozen=True)
class PlanFrame:
    """Where places lie on the picture: one scale, both ways."""

    middle: Place
    centre: Point
    mm_per_m: float

    @property
    def grain(self) -> float:
        """How large marks are drawn, of their whole size: neighbours never touch."""
        return min(1.0, self.mm_per_m / _WHOLE_MM_PER_M)

    def at(self, place: Place) -> Point:
        """Give where a place lies on the picture [mm]."""
        (x, y), (x0, y0), (left, top) = place, self.middle, self.centre
        return left + (y - y0) * self.mm_per_m, top - (x - x0) * self.mm_per_m

    def place(self, at: Point) -> Place:
        """Give which place lies there [m]."""
        (x0, y0), (left, top) = self.middle, self.centre
        return x0 - (at[1] - top) / self.mm_per_m, y0 + (at[0] - left) / self.mm_per_m


def plan_frame(
    picture: IntersectionPicture, corner: Point, size_mm: tuple[float, float]
) -> PlanFrame:
    """Fit a picture into a box from its upper left corner."""
    every = [*picture.outline, *(it for it, _ in picture.bolts), *picture.cables] or [(0.0, 0.0)]
    xs, ys = zip(*every, strict=True)
    high_m, wide_m = max(max(xs) - min(xs), _LEAST_M), max(max(ys) - min(ys), _LEAST_M)
    wide_mm, high_mm = (it - 2 * MARGIN_MM for it in size_mm)
    middle = ((max(xs) + min(xs)) / 2, (max(ys) + min(ys)) / 2)
    centre = corner[0] + size_mm[0] / 2, corner[1] + size_mm[1] / 2
    return PlanFrame(middle, centre, max(0.1, min(wide_mm / wide_m, high_mm / high_m)))


def paint_intersection(
    pen: Pen,
    picture: IntersectionPicture,
    corner: Point,
    size_mm: tuple[float, float],
    letters_pt: float,
) -> None:
    """Paint it into a box from its upper left corner."""
    frame = plan_frame(picture, corner, size_mm)
    if picture.outline:
        pen.stroke([frame.at(it) for it in picture.outline], Line("outline", 0.6), closed=True)
    if picture.span is not None:
        _circle(pen, frame, picture.span, Line("measures", 0.35, _DASH_MM, _DASH_MM / 2))
    if picture.gap is not None:
        _circle(pen, frame, picture.gap, Line("rework", 0.5))
    for place, plate in picture.bolts:
        _bolt(pen, frame.at(place), plate, _BOLT_MM * frame.grain)
    for place in picture.cables:
        _cable(pen, frame.at(place), _CABLE_MM * frame.grain)
    for place in picture.missing:
        _cross(pen, frame.at(place), Line("no_entry", 0.6), _BOLT_MM * frame.grain)
    _words(pen, picture, corner, size_mm, letters_pt)


def _circle(pen: Pen, frame: PlanFrame, circle: tuple[Place, float], line: Line) -> None:
    centre, diameter_m = circle
    radius = diameter_m / 2
    around = [(radius * x, radius * y) for x, y in _AROUND]
    x, y = centre
    pen.stroke([frame.at((x + dx, y + dy)) for dx, dy in around], line, closed=True)


def _bolt(pen: Pen, at: Point, plate: str, radius_mm: float) -> None:
    """Draw a plated bolt as a disc, one whose plate is loose as a ring, without as a dot."""
    if plate == "seated":
        pen.disc(at, radius_mm, "text")
    elif plate == "loose":
        pen.circle(at, radius_mm, Line("rework", 0.5))
    elif plate == "missing":
        pen.disc(at, radius_mm / 2, "rework")
        _cross(pen, at, Line("rework", 0.3), radius_mm)
    else:
        pen.circle(at, radius_mm, Line("quiet", 0.3))


def _cable(pen: Pen, at: Point, d: float) -> None:
    x, y = at
    pen.stroke([(x, y - d), (x + d, y), (x, y + d), (x - d, y)], Line("lamp", 0.6), closed=True)


def _cross(pen: Pen, at: Point, line: Line, d: float) -> None:
    x, y = at
    pen.stroke([(x - d, y - d), (x + d, y + d)], line)
    pen.stroke([(x - d, y + d), (x + d, y - d)], line)


def _words(
    pen: Pen,
    picture: IntersectionPicture,
    corner: Point,
    size_mm: tuple[float, float],
    letters_pt: float,
) -> None:
    (left, top), (wide, high) = corner, size_mm
    line_mm = letters_pt * MM_PER_POINT
    small = Type(letters_pt, colour="quiet")
    if picture.span_words:
        pen.write(picture.span_words, (left + 2, top + high - 2), Type(letters_pt, colour="text"))
    if picture.inbye_words:
        pen.write(picture.inbye_words, (left + 2, top + line_mm + 1), small)
        x, y = left + wide - 5, top + 2
        pen.stroke([(x, y + 3 * _ARROW_MM), (x, y)], Line("quiet", 0.5))
        head = [(x - _ARROW_MM / 2, y + _ARROW_MM), (x, y), (x + _ARROW_MM / 2, y + _ARROW_MM)]
        pen.stroke(head, Line("quiet", 0.5))
