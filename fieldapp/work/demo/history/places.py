"""The headings of the mine as they were when its record began, and their surveyed lines."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from math import cos, radians, sin
from typing import Final

from fieldapp.work.demo.history.draws import to_step
from fieldapp.work.demo.story import (
    CUDDY,
    DECLINE,
    HEADINGS,
    JUNCTION,
    MAIN,
    ORE_N,
    ORE_S,
    READY,
    DemoHeading,
)
from schemas.bodies.damage import DamageZone
from schemas.bodies.heading import SurveyedPoint
from schemas.corrosion_rules import Corrosivity

RETURN: Final = "4130 Return Airway"
"""An old drive: nobody advances it, all of it was supported before the record began."""
RETURN_M: Final = Decimal(236)
RETURN_LAST_M: Final = Decimal("0.9")
"""Its last row is so far from its end."""
RECHAINED_FROM_M: Final = Decimal(80)
RECHAINED_BY_M: Final = Decimal("3.2")
RECHAINED_DAY: Final = 300
"""It was surveyed anew then: what lies inbye of the second peg stands farther in than was said."""

POINTS_EVERY_M: Final = 20
S_M: Final[Mapping[DamageZone, Decimal]] = {
    "left wall": Decimal("-4.9"),
    "left shoulder": Decimal("-2.6"),
    "back": Decimal("0.3"),
    "right shoulder": Decimal("2.5"),
    "right wall": Decimal("5.0"),
}
"""Where along the rock a place of each zone is taken to be."""


@dataclass(frozen=True)
class Line:
    """The line of a heading in the mine's grid: where it begins, how it turns and rises."""

    east_m: float
    north_m: float
    height_m: float
    bearing_deg: float
    turns_deg_in_100_m: float
    rises_in_100_m: float

    def at(self, chainages_m: Iterator[float]) -> Iterator[SurveyedPoint]:
        """Yield points of it, walked from its origin in steps of a metre."""
        east, north, walked = self.east_m, self.north_m, 0.0
        for chainage in chainages_m:
            while walked < chainage:
                step = min(1.0, chainage - walked)
                bearing = radians(self.bearing_deg + self.turns_deg_in_100_m * walked / 100)
                east, north = east + step * sin(bearing), north + step * cos(bearing)
                walked += step
            height = self.height_m + self.rises_in_100_m * chainage / 100
            yield SurveyedPoint(
                chainage_m=to_step(chainage, "0.01"),
                east_m=to_step(east, "0.001"),
                north_m=to_step(north, "0.001"),
                height_m=to_step(height, "0.001"),
            )


@dataclass(frozen=True)
class Past:
    """How a heading came to be where the story of the last days begins."""

    now: DemoHeading
    rounds: int
    """So many were put up since the record began."""
    rows: int
    """In a round as a rule."""
    first_day: float
    """After the record began, of the first of them."""
    line: Line
    corrosivity: Corrosivity
    exposure: str


PASTS: Final = {
    DECLINE: Past(HEADINGS[0], 78, 4, 1, Line(5210, 8040, 4310, 20, 52, -14), "C3", "E3"),
    MAIN: Past(HEADINGS[1], 20, 4, 400, Line(5460, 8110, 4180, 86, 3, 1.5), "C3", "E3"),
    READY: Past(HEADINGS[2], 62, 5, 5, Line(5440, 8120, 4155, 88, -2, 1.5), "C2", "E3"),
    ORE_N: Past(HEADINGS[3], 20, 3, 380, Line(5610, 8160, 4183, 4, 5, 2), "C2", "E2"),
    ORE_S: Past(HEADINGS[4], 58, 3, 6, Line(5600, 8100, 4157, 178, -4, 2), "C3", "E2"),
    CUDDY: Past(HEADINGS[5], 8, 2, 470, Line(5480, 8060, 4131, 130, 0, 2), "C2", "E2"),
    JUNCTION: Past(HEADINGS[6], 13, 3, 150, Line(5520, 8120, 4156, 45, 0, 1), "C2", "E4"),
}
"""By name, in the order in which they were entered."""
RETURN_LINE: Final = Line(5430, 8000, 4130, 62, 6, 1)


def surveyed(line: Line, to_m: Decimal) -> tuple[SurveyedPoint, ...]:
    """Give the line from its origin to a chainage and one point beyond it."""
    last = int(to_m) // POINTS_EVERY_M + 2
    return tuple(line.at(float(POINTS_EVERY_M * n) for n in range(last)))
