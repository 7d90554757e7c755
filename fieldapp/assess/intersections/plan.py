"""An intersection in plan: its outline, the positions that its pattern demands, and its doubts."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import cached_property
from typing import Final

import numpy as np

from fieldapp.assess.gaps.area import Area, Points
from fieldapp.assess.intersections.span import why_no_outline
from schemas.bodies.intersection import Corner, Intersection, PlanBolt
from schemas.bodies.round import Method
from schemas.findings import Place
from schemas.intersection_rules import IntersectionRule, PlanPattern
from schemas.numbers import SAID_M, STEP_M, rounded, said_m, text
from schemas.standard import BoltType, Measuring, SupportClass

_HALF: Final = 0.5
_NOISE_M: Final = 1e-9
_INMOST_M: Final = Decimal(99_999)
_WIDEST_M: Final = Decimal(100)
_ON_THE_LINE_M: Final = 0.05


@dataclass(frozen=True)
class Crossing:
    """One intersection as it stands, and what it is judged by."""

    body: Intersection
    rule: IntersectionRule
    support_class: SupportClass
    measuring: Measuring

    @property
    def why_no_outline(self) -> str:
        """Why its corners are no outline; nothing where they are one."""
        return why_no_outline(self.body.corners)

    @cached_property
    def area(self) -> Area:
        """Its outline, as (inbye of where it begins, right of the centre line) [m]."""
        return Area(tuple(places_m(self.body.corners)))

    @property
    def place(self) -> Place:
        """Where it lies."""
        where = f"the junction at {said_m(self.body.from_m)} m"
        return Place(chainage_m=self.body.from_m, words=where)

    def spot(self, x_m: float, y_m: float, diameter_m: Decimal | None = None) -> Place:
        """Give a place within it."""
        chainage = max(Decimal(0), min(_INMOST_M, self.body.from_m + rounded(x_m, STEP_M)))
        widest_m = None if diameter_m is None else min(diameter_m, _WIDEST_M)
        words = f"{text(rounded(chainage, SAID_M))} m, {beside_centre(y_m)}"
        s_m = rounded(y_m, STEP_M)
        return Place(chainage_m=chainage, s_m=s_m, diameter_m=widest_m, words=words)

    def doubt_m(self, method: Method) -> float:
        """Give the standard uncertainty of a length by the method that it was read by [m]."""
        return float(getattr(self.measuring, f"{method}_m"))

    @property
    def bolt_type(self) -> BoltType:
        """The bolt of its pattern: the class's first that is not the cable, where there is one."""
        bolts = self.support_class.bolts
        return next((it for it in bolts if it.code != self.body.cable), bolts[0])

    @property
    def cable_type(self) -> BoltType | None:
        """Its long bolt or cable; None where the class has it no longer."""
        return next((it for it in self.support_class.bolts if it.code == self.body.cable), None)

    def plated(self) -> tuple[PlanBolt, ...]:
        """Give the bolts whose plates are seated."""
        return tuple(it for it in self.body.bolts if it.plate == "seated")

    def anchored(self) -> tuple[PlanBolt, ...]:
        """Give those that hold rock, also where the plate does not."""
        loose = self.bolt_type.anchored_with_loose_plate
        return self.body.bolts if loose else self.plated()

    def unseen(self) -> list[Place]:
        """Give what nobody looked at of its bolts."""
        if not self.body.bolts:
            return [Place(words=f"the bolts of {self.place.words}")]
        return [
            self.spot(float(it.x_m), float(it.y_m)) for it in self.body.bolts if it.plate is None
        ]


def beside_centre(y_m: float) -> str:
    """Say where a place is across the heading.

    Parameters
    ----------
    y_m : float
        Distance from the centre line in plan, left negative. [m]

    Returns
    -------
    str
        "2.8 m right of the centre line". [-]

    Source
    ------
    Common practice, no source.
    """
    if abs(y_m) < _ON_THE_LINE_M:
        return "on the centre line"
    return (
        f"{text(rounded(abs(y_m), SAID_M))} m {'left' if y_m < 0 else 'right'} of the centre line"
    )


def places_m(stood: Sequence[Corner]) -> list[tuple[float, float]]:
    """Give corners, bolts or cables as plain places.

    Parameters
    ----------
    stood : sequence of Corner
        Corners, bolts, cables. [m]

    Returns
    -------
    list of (x, y)
        In the same order. [m]

    Source
    ------
    Common practice, no source.
    """
    return [(float(it.x_m), float(it.y_m)) for it in stood]


def positions_m(
    corners: Sequence[Corner], pattern: PlanPattern
) -> tuple[tuple[float, float], ...]:
    """Give where the bolts of a pattern belong within an outline.

    Parameters
    ----------
    corners : sequence of Corner
        An outline (`why_no_outline` has nothing against it). [m]
    pattern : PlanPattern
        Spacing across, spacing along, square or staggered. [m]

    Returns
    -------
    tuple of (x, y)
        Row by row, left to right: each row and each place in it at the middle of its share of
        the outline's box, at no more than the stated spacings, and within the outline. [m]

    Source
    ------
    Common practice, no source.
    """
    area = Area(tuple(places_m(corners)))
    found = np.array(list(_lattice(area, pattern)), dtype=np.float64).reshape(-1, 2)
    return tuple((float(x), float(y)) for x, y in area.held(found))


def _lattice(area: Area, pattern: PlanPattern) -> Iterator[tuple[float, float]]:
    (x1, y1), (x2, y2) = area.starts.min(axis=0), area.starts.max(axis=0)
    rows, step_x = _shares(x2 - x1, float(pattern.row_spacing_m))
    across, step_y = _shares(y2 - y1, float(pattern.bolt_spacing_m))
    for row in range(rows):
        shifted = pattern.kind == "staggered" and row % 2 == 1
        for place in range(across - 1 if shifted else across):
            y = y1 + (place + (1.0 if shifted else _HALF)) * step_y
            yield x1 + (row + _HALF) * step_x, y


def _shares(length_m: float, spacing_m: float) -> tuple[int, float]:
    number = max(1, math.ceil(length_m / spacing_m - _NOISE_M))
    return number, length_m / number


def area_m2(outline_m: Points) -> float:
    """Give the area of an outline.

    Parameters
    ----------
    outline_m : array of shape (n, 2)
        Its corners, either way round. [m]

    Returns
    -------
    float
        Its area. [m2]

    Source
    ------
    Geometry: the shoelace formula.
    """
    x, y = outline_m.T
    return abs(float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum())) / 2


def area_doubt_m2(outline_m: Points, corner_m: float) -> float:
    """Carry the doubt of an outline's corners to its area.

    Parameters
    ----------
    outline_m : array of shape (n, 2)
        Its corners. [m]
    corner_m : float
        Standard uncertainty of each corner, along and across alike. [m]

    Returns
    -------
    float
        Standard uncertainty of the area. [m2]

    Source
    ------
    JCGM 100:2008, 5.1.2: a corner moves the area by half the line between its neighbours.
    """
    between = np.roll(outline_m, -1, axis=0) - np.roll(outline_m, 1, axis=0)
    return corner_m / 2 * float(np.sqrt((between**2).sum()))
