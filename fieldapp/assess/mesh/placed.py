"""The sheets of a round as rectangles on the unrolled rock, and how sure each edge is."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TYPE_CHECKING, Final, Literal

from fieldapp.assess.seen import Seen
from schemas.bodies.round import Method, SheetSeen

if TYPE_CHECKING:
    from shapely import Polygon
    from shapely.geometry.base import BaseGeometry

Edge = Literal["outbye", "inbye", "left", "right"]
EDGES: Final[tuple[Edge, ...]] = ("outbye", "inbye", "left", "right")


@dataclass(frozen=True)
class Box:
    """A rectangle on the unrolled rock: chainages, and distances from the crown [m]."""

    from_m: Decimal
    to_m: Decimal
    left_s_m: Decimal
    right_s_m: Decimal

    @property
    def is_sound(self) -> bool:
        """Whether it has an area."""
        return self.from_m < self.to_m and self.left_s_m < self.right_s_m

    @property
    def area_m2(self) -> Decimal:
        """Its area [m2]."""
        return (self.to_m - self.from_m) * (self.right_s_m - self.left_s_m)

    @property
    def middle_m(self) -> tuple[Decimal, Decimal]:
        """Chainage and distance from the crown of its middle [m]."""
        return (self.from_m + self.to_m) / 2, (self.left_s_m + self.right_s_m) / 2

    def common(self, other: "Box") -> "Box":
        """Give what both cover; not sound where they don't meet."""
        return Box(
            max(self.from_m, other.from_m),
            min(self.to_m, other.to_m),
            max(self.left_s_m, other.left_s_m),
            min(self.right_s_m, other.right_s_m),
        )

    def holds(self, other: "Box") -> bool:
        """Whether the other lies wholly inside."""
        return self.common(other) == other


@dataclass(frozen=True)
class Placed:
    """One sheet that has an area."""

    number: int
    box: Box
    methods: dict[Edge, Method]
    seen: SheetSeen
    old: bool = False
    """It is of the round before."""

    @property
    def name(self) -> str:
        """As people say it."""
        return f"sheet {self.number} of the round before" if self.old else f"sheet {self.number}"

    @property
    def is_read(self) -> bool:
        """Whether anybody read an edge or a lap of it: else it is only as standard."""
        laps = any(it.openings is not None or it.least_mm is not None for it in self.seen.laps)
        return laps or any(method != "assumed" for method in self.methods.values())


def box_of(sheet: SheetSeen) -> Box:
    """Give the rectangle of a sheet as it was placed.

    Parameters
    ----------
    sheet : SheetSeen
        Its four edges. [m]

    Returns
    -------
    Box
        Not sound where its edges are reversed or meet. [m]

    Source
    ------
    Geometry.
    """
    return Box(sheet.from_m, sheet.to_m, sheet.left_s_m, sheet.right_s_m)


def placed_sheets(seen: Seen) -> tuple[Placed, ...]:
    """Give the sheets of this round that have an area, from the joint inbye, left to right.

    Parameters
    ----------
    seen : Seen
        The round. [m]

    Returns
    -------
    tuple of Placed
        Those with reversed edges are left to `contradictions.sheets`. [m]

    Source
    ------
    Common practice, no source.
    """
    return tuple(sorted(_sound(seen.round.sheets), key=_order))


def old_sheets(seen: Seen) -> tuple[Placed, ...]:
    """Give the sheets of the round before that have an area.

    Parameters
    ----------
    seen : Seen
        The round, and the sheets of the one before. [m]

    Returns
    -------
    tuple of Placed
        None where nobody placed any. [m]

    Source
    ------
    Common practice, no source.
    """
    return tuple(replace(it, old=True) for it in sorted(_sound(seen.sheets_before), key=_order))


def rectangle(box: Box) -> "Polygon":
    """Give a box as a polygon for areas and unions.

    Parameters
    ----------
    box : Box
        A rectangle on the unrolled rock. [m]

    Returns
    -------
    Polygon
        Chainage first, then the distance from the crown. [m]

    Source
    ------
    Geometry.
    """
    from shapely import box as polygon  # loaded where sheets are placed, and nowhere else

    return polygon(*map(float, (box.from_m, box.left_s_m, box.to_m, box.right_s_m)))


def union_of(boxes: Iterable[Box]) -> "BaseGeometry":
    """Give the rock that any of some rectangles covers.

    Parameters
    ----------
    boxes : iterable of Box
        Rectangles on the unrolled rock. [m]

    Returns
    -------
    BaseGeometry
        One shape; rock that several cover is in it once. [m]

    Source
    ------
    Geometry (shapely's union).
    """
    from shapely import union_all  # loaded where sheets are placed, and nowhere else

    return union_all([rectangle(box) for box in boxes])


def _sound(sheets: tuple[SheetSeen, ...]) -> Iterator[Placed]:
    for sheet in sheets:
        if box_of(sheet).is_sound:
            methods: dict[Edge, Method] = {
                "outbye": sheet.from_method,
                "inbye": sheet.to_method,
                "left": sheet.left_method,
                "right": sheet.right_method,
            }
            yield Placed(sheet.number, box_of(sheet), methods, sheet)


def _order(sheet: Placed) -> tuple[Decimal, Decimal, int]:
    return sheet.box.from_m, sheet.box.left_s_m, sheet.number
