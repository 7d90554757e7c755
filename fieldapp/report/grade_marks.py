"""Pictures of the grades of rust and of damage, to hold what is seen against: drawn by us.

Rust is shown on a plate with its nut, seen from below; damage on a bolt that holds mesh to the
rock, seen from the side. Shapes alone tell the steps apart; the standard's words stand beside.
"""

from collections.abc import Sequence
from typing import Final

from fieldapp.report.marks import Disc, MarkShape, Piece, Point, Polygon, Stroke

THIN: Final = 0.055
THICK: Final = 0.11
STEPS: Final = 6
"""Pictures of each; a card with fewer steps takes those of its mildest and gravest."""


def rust_mark(grade: int) -> MarkShape:
    """Give the picture of a grade of rust, from 0, as new, to 5, rusted through."""
    return MarkShape("text", _RUST[grade])


def damage_mark(step: int, steps: int) -> MarkShape:
    """Give the picture of a step of the standard's card of damage, from 0, the mildest."""
    last = max(1, steps - 1)
    return MarkShape("text", _DAMAGE[round(step * (STEPS - 1) / last)])


# --- rust: a plate and its nut ------------------------------------------------------------

_PLATE: Final = ((-0.9, -0.9), (0.9, -0.9), (0.9, 0.9), (-0.9, 0.9))
_NUT: Final = (
    (0.32, 0.0),
    (0.16, 0.28),
    (-0.16, 0.28),
    (-0.32, 0.0),
    (-0.16, -0.28),
    (0.16, -0.28),
)
_SPECKS: Final = ((-0.62, 0.6), (0.55, -0.66), (0.66, 0.34))
_PATCHES: Final = ((-0.6, 0.58), (-0.46, 0.66), (-0.56, 0.44), (0.58, -0.62), (0.44, -0.66))
_ALL_OVER: Final = tuple(
    (x, y)
    for x in (-0.72, -0.48, -0.24, 0.0, 0.24, 0.48, 0.72)
    for y in (-0.72, -0.48, 0.48, 0.72)
) + tuple((x, y) for x in (-0.72, -0.5, 0.5, 0.72) for y in (-0.24, 0.0, 0.24))
_EATEN: Final = (
    (-0.9, -0.6),
    (-0.66, -0.9),
    (-0.1, -0.82),
    (0.3, -0.92),
    (0.8, -0.84),
    (0.74, -0.3),
    (0.92, 0.2),
    (0.7, 0.84),
    (0.2, 0.76),
    (-0.3, 0.92),
    (-0.84, 0.74),
    (-0.74, 0.1),
)
_HALF: Final = (
    (-0.9, -0.84),
    (-0.2, -0.9),
    (-0.34, -0.5),
    (0.02, -0.16),
    (-0.3, 0.14),
    (0.0, 0.5),
    (-0.24, 0.84),
    (-0.8, 0.9),
    (-0.74, 0.2),
)
_PIECE_GONE: Final = ((0.5, -0.86), (0.86, -0.7), (0.7, -0.36), (0.4, -0.52))


def _dots(places: Sequence[Point], radius: float) -> tuple[Piece, ...]:
    return tuple(Disc(at, radius) for at in places)


def _holes(places: Sequence[Point], radius: float) -> tuple[Piece, ...]:
    return tuple(Disc(at, radius, ink="mark_ink") for at in places)


_SOUND: Final[tuple[Piece, ...]] = (
    Stroke(_PLATE, THICK, closed=True),
    Stroke(_NUT, THICK, closed=True),
)
_PITS: Final = ((-0.5, 0.5), (0.5, 0.56), (-0.52, -0.44), (0.46, -0.52), (0.0, 0.6), (0.02, -0.62))
_RUST: Final[tuple[tuple[Piece, ...], ...]] = (
    _SOUND,
    (*_SOUND, *_dots(_SPECKS, 0.06)),
    (*_SOUND, *_dots(_PATCHES, 0.1)),
    (*_SOUND, *_dots(_ALL_OVER, 0.08)),
    (
        Polygon(_EATEN),
        *_holes(_PITS, 0.15),
        Disc((0, 0), 0.36, ink="mark_ink"),
        Disc((0, 0), 0.24),
    ),
    (Polygon(_HALF), Polygon(_PIECE_GONE), *_holes(((-0.56, 0.46), (-0.5, -0.4)), 0.17)),
)

# --- damage: rock, bolt, plate and mesh from the side ----------------------------------------

_ROCK: Final = Stroke(((-0.95, 0.42), (0.95, 0.42)), THICK)
_CRACK: Final = Stroke(((-0.5, 0.42), (-0.36, 0.62), (-0.46, 0.78), (-0.3, 0.95)), THIN)
_WIDE_CRACK: Final = Stroke(((0.5, 0.42), (0.34, 0.64), (0.5, 0.8), (0.36, 0.95)), THICK)


def _bolt(x: float, low: float) -> Stroke:
    return Stroke(((x, 0.95), (x, low)), THICK)


def _plate(x: float, y: float, dish: float) -> Stroke:
    """Draw a plate from the side: flat, or dished by the load on it."""
    return Stroke(((x - 0.3, y + dish), (x, y), (x + 0.3, y + dish)), 0.15)


def _mesh(*points: Point) -> Stroke:
    return Stroke(points, THIN)


_FALLEN: Final[tuple[Piece, ...]] = (
    Polygon(((-0.7, -0.9), (-0.3, -0.94), (-0.24, -0.62), (-0.56, -0.5))),
    Polygon(((-0.16, -0.94), (0.4, -0.94), (0.3, -0.5), (-0.02, -0.6))),
    Polygon(((0.5, -0.94), (0.86, -0.92), (0.72, -0.64))),
)
_DAMAGE: Final[tuple[tuple[Piece, ...], ...]] = (
    (_ROCK, _bolt(0, 0.18), _plate(0, 0.26, 0.0), _mesh((-0.95, 0.3), (0.95, 0.3))),
    (_ROCK, _CRACK, _bolt(0, 0.14), _plate(0, 0.22, 0.08), _mesh((-0.95, 0.3), (0.95, 0.3))),
    (
        _ROCK,
        _CRACK,
        _bolt(0, 0.1),
        _plate(0, 0.18, 0.2),
        _mesh((-0.95, 0.3), (-0.62, 0.04), (-0.3, 0.3)),
        _mesh((0.3, 0.3), (0.62, 0.04), (0.95, 0.3)),
    ),
    (
        _ROCK,
        _CRACK,
        _WIDE_CRACK,
        _bolt(0, 0.1),
        _plate(0, 0.18, 0.2),
        _mesh((-0.95, 0.3), (-0.66, -0.14), (-0.3, 0.3)),
        _mesh((0.34, -0.12), (0.5, 0.0), (0.66, -0.2), (0.95, 0.3)),
    ),
    (
        _ROCK,
        _CRACK,
        _WIDE_CRACK,
        _bolt(0, 0.6),
        _plate(0.1, -0.3, 0.14),
        _mesh((-0.95, 0.3), (-0.7, -0.4), (-0.34, -0.62), (-0.14, -0.5)),
        _mesh((0.4, -0.6), (0.62, -0.34), (0.95, 0.3)),
        Polygon(((-0.6, -0.34), (-0.34, -0.5), (-0.2, -0.2), (-0.5, -0.1))),
    ),
    (
        Stroke(
            ((-0.95, 0.42), (-0.6, 0.5), (-0.3, 0.84), (0.24, 0.9), (0.6, 0.56), (0.95, 0.42)),
            THICK,
        ),
        _mesh((-0.95, 0.3), (-0.86, -0.2), (-0.7, -0.44)),
        _mesh((0.95, 0.3), (0.84, -0.1), (0.9, -0.4)),
        *_FALLEN,
    ),
)
