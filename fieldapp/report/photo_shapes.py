"""What is drawn over a photo, as plain shapes: the screen and paper paint the same ones.

Places are shares of the photo as it is seen upright, from its left and its top edge; what has a
size of its own on the glass or the paper (lines, letters, rings of points) has the painter's.
Colours are meanings of the palette.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from math import cos, hypot, pi, sin
from typing import Final

from schemas.bodies.photo_marks import Arrow, Mark, Outline, Ring, Spot
from schemas.taps import MeasuredOnPhoto, Point, Taps, What

At = tuple[float, float]
MARKED, FRAME, MEASURED = "rework", "lamp", "measures"
HEAD: Final = 0.03
"""Length of an arrow's head, as a share of the photo's width."""
_ROUND: Final = 60


@dataclass(frozen=True)
class Stroke:
    """A line."""

    points: tuple[At, ...]
    colour: str
    closed: bool = False


@dataclass(frozen=True)
class Tapped:
    """A ring round a place that a finger chose."""

    at: At
    colour: str


@dataclass(frozen=True)
class Tag:
    """Words on a ground of their own, so that they can be read over any picture."""

    at: At
    text: str
    colour: str


Shape = Stroke | Tapped | Tag


def shapes_of_marks(marks: Iterable[Mark], aspect: float) -> tuple[Shape, ...]:
    """Draw marks. `aspect` is the photo's height over its width."""
    return tuple(shape for mark in marks for shape in _of_mark(mark, aspect))


def _of_mark(mark: Mark, aspect: float) -> Iterator[Shape]:
    if isinstance(mark, Arrow):
        yield from _arrow(_at(mark.from_spot), _at(mark.to_spot), aspect)
    elif isinstance(mark, Ring):
        yield Stroke(_ring(_at(mark.centre), _at(mark.rim), aspect), MARKED, closed=True)
    elif isinstance(mark, Outline):
        yield Stroke(tuple(map(_at, mark.spots)), MARKED, closed=True)
    else:
        yield Tag(_at(mark.at), mark.text, MARKED)


def _arrow(start: At, tip: At, aspect: float) -> Iterator[Shape]:
    back = (start[0] - tip[0], (start[1] - tip[1]) * aspect)
    length = hypot(*back) or 1.0
    x, y = back[0] / length, back[1] / length
    turn = pi / 7
    sides = tuple(
        (
            tip[0] + HEAD * (x * cos(way) - y * sin(way)),
            tip[1] + HEAD * (x * sin(way) + y * cos(way)) / aspect,
        )
        for way in (turn, -turn)
    )
    yield Stroke((start, tip), MARKED)
    yield Stroke((sides[0], tip, sides[1]), MARKED)


def _ring(centre: At, rim: At, aspect: float) -> tuple[At, ...]:
    radius = hypot(rim[0] - centre[0], (rim[1] - centre[1]) * aspect)
    turns = (2 * pi * step / _ROUND for step in range(_ROUND))
    return tuple(
        (centre[0] + radius * cos(turn), centre[1] + radius * sin(turn) / aspect) for turn in turns
    )


@dataclass(frozen=True)
class Tapping:
    """Something that is measured, as far as it was tapped, with its result if there is one."""

    what: What
    points: tuple[At, ...]
    words: str = ""


def shapes_of_taps(
    corners: Sequence[At], named: str, tappings: Iterable[Tapping]
) -> tuple[Shape, ...]:
    """Draw a frame with its name, and what is measured by it with its results."""
    frame = _of_points(corners, FRAME, named, closed=len(corners) > 3)  # noqa: PLR2004
    return (*frame, *(shape for it in tappings for shape in _of_tapping(it)))


def shapes_of_proposed(
    corners: Sequence[Point], crossings: Sequence[Point], size_px: tuple[int, int]
) -> tuple[Shape, ...]:
    """Draw a frame that was found, and the crossings that it was found by."""
    known = (Tapped(at, MEASURED) for at in _shares(crossings, size_px))
    return (*known, *shapes_of_taps(_shares(corners, size_px), "", ()))


def shapes_of_measurement(
    taps: Taps, results: Sequence[MeasuredOnPhoto], size_px: tuple[int, int]
) -> tuple[Shape, ...]:
    """Draw what was measured on a photo of this size."""
    measured = [
        Tapping(it.what, _shares(it.points_px, size_px), result_words(result))
        for it, result in zip(taps.measure, results, strict=False)
    ]
    return shapes_of_taps(_shares(taps.frame.corners_px, size_px), "", measured)


def result_words(result: MeasuredOnPhoto) -> str:
    """Say a result with how sure it is."""
    unit = {"mm": "mm", "m2": "m²"}[result.unit]
    return f"{result.value} ± {result.plus_minus} {unit}"


def _of_tapping(it: Tapping) -> Iterator[Shape]:
    if it.what in ("lap", "offset") and len(it.points) > 2:  # noqa: PLR2004
        yield Stroke((_foot(*it.points), it.points[2]), MEASURED)
        yield Stroke(it.points[:2], MEASURED)
        yield from _of_points(it.points, MEASURED, it.words, lined=False)
    else:
        yield from _of_points(it.points, MEASURED, it.words, closed=it.what == "area")


def _foot(start: At, end: At, at: At) -> At:
    """Give the place on a line that lies nearest a point of the picture."""
    along = (end[0] - start[0], end[1] - start[1])
    length2 = along[0] ** 2 + along[1] ** 2
    off = (at[0] - start[0]) * along[0] + (at[1] - start[1]) * along[1]
    share = off / length2 if length2 else 0.0
    return start[0] + share * along[0], start[1] + share * along[1]


def _of_points(
    points: Sequence[At], colour: str, words: str, *, closed: bool = False, lined: bool = True
) -> Iterator[Shape]:
    if lined and len(points) > 1:
        yield Stroke(tuple(points), colour, closed=closed)
    yield from (Tapped(at, colour) for at in points)
    if words and points:
        yield Tag(max(points, key=lambda at: at[0] + at[1]), words, colour)


def _shares(points: Sequence[Point], size_px: tuple[int, int]) -> tuple[At, ...]:
    return tuple((float(x) / size_px[0], float(y) / size_px[1]) for x, y in points)


def _at(spot: Spot) -> At:
    return float(spot[0]), float(spot[1])
