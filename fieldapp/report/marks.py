"""The marks of verdicts and bolts, drawn once: screen, PDF and PNG all paint these pieces.

A mark says its meaning by its shape alone; the colour says it again. Pieces lie in a square
from -1 to 1, y upwards. `ink` is "mark" (the mark's colour) or "mark_ink" (what is cut into it).
"""

from dataclasses import dataclass
from typing import Literal

from fieldapp.report.colours import MARK_COLOURS

Ink = Literal["mark", "mark_ink"]
Point = tuple[float, float]


@dataclass(frozen=True)
class Disc:
    """A filled circle."""

    centre: Point
    radius: float
    ink: Ink = "mark"


@dataclass(frozen=True)
class Ring:
    """A circle's line; `dashes` > 0 breaks it into so many strokes."""

    centre: Point
    radius: float
    width: float
    dashes: int = 0
    ink: Ink = "mark"


@dataclass(frozen=True)
class Polygon:
    """A filled polygon."""

    points: tuple[Point, ...]
    ink: Ink = "mark"


@dataclass(frozen=True)
class Stroke:
    """A line with round ends and corners."""

    points: tuple[Point, ...]
    width: float
    closed: bool = False
    ink: Ink = "mark"


Piece = Disc | Ring | Polygon | Stroke


@dataclass(frozen=True)
class MarkShape:
    """The pieces of one mark, from the lowest up, and the meaning of its colour."""

    colour: str
    pieces: tuple[Piece, ...]


def _square(half: float) -> tuple[Point, ...]:
    return ((-half, -half), (half, -half), (half, half), (-half, half))


TRIANGLE = ((-0.84, -0.68), (0.84, -0.68), (0.0, 0.8))
EXCLAMATION: tuple[Piece, ...] = (
    Stroke(((0.0, 0.3), (0.0, -0.14)), 0.2, ink="mark_ink"),
    Disc((0.0, -0.44), 0.12, ink="mark_ink"),
)
WARNING: tuple[Piece, ...] = (Polygon(TRIANGLE), Stroke(TRIANGLE, 0.16, closed=True), *EXCLAMATION)
PLATE = Stroke(_square(0.76), 0.17, closed=True)
CROSS: tuple[Piece, ...] = (
    Stroke(((-0.42, -0.42), (0.42, 0.42)), 0.22),
    Stroke(((-0.42, 0.42), (0.42, -0.42)), 0.22),
)

VERDICT_PIECES: dict[str, tuple[Piece, ...]] = {
    "accept": (
        Disc((0, 0), 0.94),
        Stroke(((-0.42, 0.0), (-0.12, -0.34), (0.44, 0.36)), 0.22, ink="mark_ink"),
    ),
    "fix this shift": (Stroke(TRIANGLE, 0.2, closed=True),),
    "measure again": (
        Polygon(((-0.96, 0), (0, -0.96), (0.96, 0), (0, 0.96))),
        Stroke(((-0.4, 0), (0.4, 0)), 0.13, ink="mark_ink"),
        Stroke(((-0.4, -0.22), (-0.4, 0.22)), 0.13, ink="mark_ink"),
        Stroke(((0.4, -0.22), (0.4, 0.22)), 0.13, ink="mark_ink"),
    ),
    "not looked at": (Ring((0, 0), 0.82, 0.17, dashes=11),),
    "rework": WARNING,
    "no entry": (
        Polygon(_square(0.9)),
        Stroke(((-0.56, 0), (0.56, 0)), 0.3, ink="mark_ink"),
    ),
}

BOLT_MARKS: dict[str, MarkShape] = {
    "seated": MarkShape("text", (PLATE, Disc((0, 0), 0.38))),
    "assumed": MarkShape("text", (PLATE, Ring((0, 0), 0.3, 0.15))),
    "loose": MarkShape("rework", WARNING),
    "not counting": MarkShape("rework", (PLATE, *CROSS)),
    "missing": MarkShape("no_entry", (Ring((0, 0), 0.84, 0.19), *CROSS)),
    "not looked at": MarkShape("quiet", VERDICT_PIECES["not looked at"]),
}
"""How a bolt is drawn. "not counting" is there but broken, too short, askew or rusted away."""

VERDICT_MARKS = {
    verdict: MarkShape(MARK_COLOURS[verdict], pieces) for verdict, pieces in VERDICT_PIECES.items()
}
