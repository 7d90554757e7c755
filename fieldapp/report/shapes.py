"""The unrolled drive as plain shapes in metres, painted by the screen and by paper alike.

`x_m` is the chainage, `s_m` the distance along the rock from the crown, looking toward the
face, left negative. On every picture the face is above and the left wall on the left, at one
scale in both directions. What has a size of its own on the glass or the paper (marks, letters,
tags) is placed by the painter: `tag_places` finds room for tags in the painter's own units.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import hypot
from typing import Literal

from fieldapp.report.words.lengths import Units

Place = tuple[float, float]
"""(chainage, distance from the crown) in metres."""

BoltState = Literal["seated", "assumed", "loose", "not counting", "missing", "not looked at"]
"""A key of `marks.BOLT_MARKS`."""


@dataclass(frozen=True)
class Bolt:
    """One bolt, or a demanded position that nobody looked at or that holds none."""

    x_m: float
    s_m: float
    state: BoltState
    row: int | None
    """Number of its row; None in an old row."""
    position: int | None
    """Demanded position that it stands for; None for an extra bolt."""
    old: bool = False
    off_from: Place | None = None
    """The demanded position it is off from, or the hole it was put in beside."""
    beside: bool = False
    """It was put in beside a hole that was given up."""
    assumed: bool = False
    """Its place is the demanded one: nobody measured it."""


@dataclass(frozen=True)
class Band:
    """A strip across the drive: a mesh lap. `colour` is a meaning of the palette."""

    x_from_m: float
    x_to_m: float
    s_from_m: float
    s_to_m: float
    number: int | None
    """None: of sheets side by side."""
    colour: str
    read: bool = True
    """False: nobody has read it; its edges are drawn, not its hatching."""


@dataclass(frozen=True)
class MeshSheet:
    """A placed sheet of mesh, drawn as wires; its edges are broken where only assumed."""

    x_from_m: float
    x_to_m: float
    s_from_m: float
    s_to_m: float
    number: int
    read: bool = True
    """False: it lies as standard, and nobody has read an edge or a lap of it."""
    old: bool = False
    """It is of the round before."""

    @property
    def corners(self) -> tuple[Place, Place, Place, Place]:
        """Its corners, one after another."""
        low, high, left, right = self.x_from_m, self.x_to_m, self.s_from_m, self.s_to_m
        return (low, left), (low, right), (high, right), (high, left)

    @property
    def wires(self) -> tuple[tuple[Place, Place], ...]:
        """Some of its wires both ways, enough to be known as mesh."""
        along = _between(self.s_from_m, self.s_to_m)
        across = _between(self.x_from_m, self.x_to_m)
        return (
            *(((self.x_from_m, s), (self.x_to_m, s)) for s in along),
            *(((x, self.s_from_m), (x, self.s_to_m)) for x in across),
        )


@dataclass(frozen=True)
class Circle:
    """The largest circle without a bolt that counts, or the mark around a damage."""

    x_m: float
    s_m: float
    diameter_m: float
    colour: str
    of: Literal["plated", "anchored", "damage"] = "plated"


@dataclass(frozen=True)
class LoadCell:
    """Ground that one bolt carries: how well, as a step of `load_hatching`, and in figures."""

    places: tuple[Place, ...]
    step: int
    figure: str
    """How many times it carries what is demanded; empty where nothing is."""
    words: str
    """What the bolt carries, and what its ground demands."""
    x_m: float
    s_m: float


@dataclass(frozen=True)
class FaceLine:
    """The face: from left to right, through what was read; a part not read is only guessed."""

    places: tuple[Place, ...]
    read: bool = True
    over_old: bool = False
    """It is no face but the old row at which new support over old ends."""


@dataclass(frozen=True)
class RowFrame:
    """One row: its number at the margin, and the frame that shows it selected."""

    label: str
    row: int | None
    x_m: float
    s_from_m: float
    s_to_m: float
    old: bool = False
    selected: bool = False
    x_assumed: bool = False
    """Its chainage is the standard's: nobody taped it."""
    ground: str = ""
    """Its support class, in the two rows between which the ground changes."""


@dataclass(frozen=True)
class Tag:
    """A few words beside something; it never hides a bolt or the face."""

    text: str
    x_m: float
    s_m: float
    colour: str
    number: str = ""
    """What stands there where the words find no room on the glass, and leads to them in a list."""


@dataclass(frozen=True)
class Span:
    """A reading along the drive, drawn as an arrow with two heads."""

    x_from_m: float
    x_to_m: float
    s_m: float
    colour: str


@dataclass(frozen=True)
class ZoneBand:
    """Left wall, left shoulder, back, … from edge to edge."""

    name: str
    s_from_m: float
    s_to_m: float


@dataclass(frozen=True)
class ChainageTick:
    """A chainage written at the margin."""

    x_m: float
    text: str


@dataclass(frozen=True)
class CrossLine:
    """A line across the drive: the joint, the last row, the entry line, a change of ground."""

    kind: Literal["joint", "last row", "entry line", "ground changes"]
    x_m: float
    text: str = ""
    """Its own chainage, where that is said otherwise than the one of the row beneath it."""


@dataclass(frozen=True)
class Drawing:
    """Everything on the picture of one round, and the ground that the picture shows."""

    x_from_m: float
    x_to_m: float
    s_from_m: float
    s_to_m: float
    zones: tuple[ZoneBand, ...] = ()
    sheets: tuple[MeshSheet, ...] = ()
    bare: tuple[tuple[Place, ...], ...] = ()
    """Outlines of rock that no placed sheet covers."""
    bands: tuple[Band, ...] = ()
    cells: tuple[LoadCell, ...] = ()
    cell_words: tuple[str, ...] = ()
    """What each step of the cells means, as multiples of the demand."""
    ticks: tuple[ChainageTick, ...] = ()
    lines: tuple[CrossLine, ...] = ()
    rows: tuple[RowFrame, ...] = ()
    face: FaceLine | None = None
    bolts: tuple[Bolt, ...] = ()
    circles: tuple[Circle, ...] = ()
    spans: tuple[Span, ...] = ()
    tags: tuple[Tag, ...] = ()
    notes: tuple[str, ...] = ()
    """What the picture can't show by itself: "positions assumed", …"""
    units: Units = "metres"
    """How lengths are written on it; the shapes are in metres."""


_WIRES_M = 0.4
_MOST_WIRES = 60


def _between(start: float, end: float) -> list[float]:
    """Give places some wires apart, in the middle between two edges."""
    count = min(_MOST_WIRES, max(1, round((end - start) / _WIRES_M)))
    return [start + (number + 0.5) * (end - start) / count for number in range(count)]


@dataclass(frozen=True)
class Box:
    """A box in the painter's units; which way y runs makes no difference."""

    x: float
    y: float
    wide: float
    high: float

    def meets(self, other: "Box", apart: float = 0.0) -> bool:
        """Say whether two boxes overlap or come nearer than `apart`."""
        return (
            self.x - apart < other.x + other.wide
            and other.x - apart < self.x + self.wide
            and self.y - apart < other.y + other.high
            and other.y - apart < self.y + self.high
        )

    def holds(self, other: "Box") -> bool:
        """Say whether the other lies wholly inside."""
        return (
            self.x <= other.x
            and self.y <= other.y
            and other.x + other.wide <= self.x + self.wide
            and other.y + other.high <= self.y + self.high
        )

    def away(self, point: tuple[float, float]) -> float:
        """Give how far a point lies outside; 0 inside."""
        x, y = point
        across = max(self.x - x, x - self.x - self.wide, 0.0)
        return hypot(across, max(self.y - y, y - self.y - self.high, 0.0))


def boxes_along(points: Sequence[tuple[float, float]], half: float) -> list[Box]:
    """Give a box around each step of a line that is so thick: together they cover all of it."""
    return [
        Box(
            min(x, next_x) - half,
            min(y, next_y) - half,
            abs(next_x - x) + 2 * half,
            abs(next_y - y) + 2 * half,
        )
        for (x, y), (next_x, next_y) in pairwise(points)
    ]


_RINGS = 20
_DIRECTIONS = ((1, 0), (-1, 0), (0, -1), (0, 1), (1, -1), (1, 1), (-1, -1), (-1, 1))


@dataclass(frozen=True)
class WantedTag:
    """A tag's size, and the point that it speaks of."""

    x: float
    y: float
    wide: float
    high: float


def tag_places(
    wanted: list[WantedTag],
    taken: list[Box],
    room: Box,
    apart: float,
    others: Sequence[tuple[float, float]] = (),
) -> tuple[Box | None, ...]:
    """Find a place for each tag near its point, clear of what is taken and of the tags before it.

    None where there is no such place: a tag never hides a bolt or the face, and what it says
    stands in the list of findings too. The first tag has the first choice. None stands nearer to
    one of the `others`, points that something else is said of, than to its own.
    """
    kept = list(taken)
    places: list[Box | None] = []
    for tag in wanted:
        inside = (box for box in _around(tag, apart) if room.holds(box))
        own = (box for box in inside if _is_nearest(box, (tag.x, tag.y), others))
        clear = (box for box in own if not any(box.meets(other, apart) for other in kept))
        place = next(clear, None)
        places.append(place)
        kept += [place] if place else []
    return tuple(places)


def _is_nearest(box: Box, own: tuple[float, float], others: Sequence[tuple[float, float]]) -> bool:
    return all(box.away(own) <= box.away(it) for it in others)


def _around(tag: WantedTag, apart: float) -> Iterator[Box]:
    """Give places from near to far: right, left, above, below, and between."""
    for ring in range(_RINGS):
        reach = apart + ring * tag.high / 4
        for right, down in _DIRECTIONS:
            x = tag.x - tag.wide / 2 + right * (tag.wide / 2 + reach)
            y = tag.y - tag.high / 2 + down * (tag.high / 2 + reach)
            yield Box(x, y, tag.wide, tag.high)
