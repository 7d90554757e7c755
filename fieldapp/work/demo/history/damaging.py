"""What truly damaged the support: traffic, blasting, stress, a tremor, rust. And its repair.

Nobody saw it happen. It is found on a walk, or by whoever drove into it.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from math import ceil
from typing import Final

from fieldapp.work.demo.history.coring import TrueSet
from fieldapp.work.demo.history.draws import Draws
from fieldapp.work.demo.history.places import PASTS, RETURN
from fieldapp.work.demo.history.pulling import TrueTest
from fieldapp.work.demo.history.truth import (
    BLASTING_A_MONTH,
    ENDS,
    GROWS_A_MONTH,
    LATE_REPAIRS,
    MONTH_DAYS,
    STRESS_A_MONTH,
    TOLD_AT_ONCE,
    TRAFFIC_A_MONTH,
    TREMOR,
    WET,
)
from schemas.bodies.damage import Cause, DamageKind, DamageZone

DUE_DAYS: Final = {"S1": 90, "S2": 30, "S3": 7}
"""By the standard's table, where people pass."""
SOONER_DAYS: Final = {"S1": 30, "S2": 7, "S3": 7}
"""Where they stay."""
STAY: Final = "E4"
FORGOTTEN: Final = 2
WALK_HOUR: Final = 0.36
ROOM_M: Final = 12.0
"""So near the face nobody records damage: the round there says it."""

FaceOn = Callable[[float], float]
"""Gives where the face is on a day."""


@dataclass(frozen=True)
class TrueDamage:
    """One damage, from the day on which it happened to the day of its repair."""

    name: str
    heading: str
    day: float
    at_m: float
    zone: DamageZone
    kind: DamageKind
    cause: Cause
    severity: str
    above_floor_m: float
    depth_mm: float = 0.0
    """How far mesh hung at first; 0 where none hangs."""
    told_at_once: bool = False
    """By whoever was there when it happened."""
    forgotten: bool = False
    """Nobody plans its repair, though it is due."""
    seen_day: float = 0.0
    repaired_day: float | None = None
    """When the repair is done; None: not by the end of the past."""
    late: bool = False

    def depth_on(self, day: float) -> float:
        """Give how far the mesh hangs on a day: it grows until somebody repairs it."""
        return self.depth_mm * (1 + GROWS_A_MONTH * (day - self.day) / MONTH_DAYS)

    def is_seen_on(self, day: float) -> bool:
        """Tell whether whoever walks past on a day sees it."""
        return self.seen_day <= day and (self.repaired_day is None or day < self.repaired_day)


@dataclass(frozen=True)
class _Source:
    """What a cause does to support, where, and how often."""

    cause: Cause
    kinds: tuple[DamageKind, ...]
    zones: tuple[DamageZone, ...]
    severities: tuple[str, ...]
    above_floor_m: tuple[float, float]
    a_month: Mapping[str, float]
    depth_mm: tuple[float, float] = (0.0, 0.0)
    told_at_once: float = 0.0


_WALLS: Final[tuple[DamageZone, ...]] = ("left wall", "right wall")
_ABOVE: Final[tuple[DamageZone, ...]] = ("left shoulder", "back", "right shoulder")
_SOURCES: Final = (
    _Source(
        cause="vehicle",
        kinds=("vehicle hit", "vehicle hit", "torn mesh"),
        zones=_WALLS,
        severities=("S1", "S2", "S2", "S3"),
        above_floor_m=(0.4, 1.8),
        a_month=TRAFFIC_A_MONTH,
        told_at_once=TOLD_AT_ONCE,
    ),
    _Source(
        cause="blasting",
        kinds=("plate gone", "torn mesh", "bolt broken"),
        zones=_ABOVE,
        severities=("S1", "S2", "S3"),
        above_floor_m=(2.4, 3.6),
        a_month=BLASTING_A_MONTH,
    ),
    _Source(
        cause="stress",
        kinds=("bagged mesh",),
        zones=_WALLS,
        severities=("S2",),
        above_floor_m=(0.8, 1.8),
        a_month=STRESS_A_MONTH,
        depth_mm=(110, 190),
    ),
)


def damages_of(
    draws: Draws,
    face_on: Mapping[str, FaceOn],
    slipped: Iterable[TrueTest],
    weak: Iterable[TrueSet],
) -> tuple[TrueDamage, ...]:
    """Give every damage of the past, in the order in which it was seen first."""
    happened = (
        *(it for source in _SOURCES for it in _from(draws, source, face_on)),
        *_bagged_by_the_tremor(draws),
        *_rusted(),
        *map(_pulled_loose, slipped),
        *map(_too_weak, weak),
    )
    found = (_found_and_repaired(draws, it) for it in happened)
    return tuple(sorted(filter(None, found), key=lambda it: (it.seen_day, it.name)))


def walk_days(heading: str) -> tuple[float, ...]:
    """Give the days on which a heading is walked: once a month, each on its own day."""
    first = 6 + 3 * [*PASTS, RETURN].index(heading) + WALK_HOUR
    return tuple(first + round(MONTH_DAYS * n) for n in range(ceil((ENDS - first) / MONTH_DAYS)))


def _from(draws: Draws, of: _Source, face_on: Mapping[str, FaceOn]) -> Iterator[TrueDamage]:
    """Yield what one cause did, at its steady rate."""
    for heading, rate in of.a_month.items():
        day, nth = draws.wait(MONTH_DAYS / rate, heading, of.cause), 0
        while day < ENDS:
            yield _one(
                draws, of, f"{heading}, {of.cause} {nth}", (heading, day, face_on[heading](day))
            )
            nth += 1
            day += draws.wait(MONTH_DAYS / rate, heading, of.cause, nth)


def _one(draws: Draws, of: _Source, name: str, place: tuple[str, float, float]) -> TrueDamage:
    heading, day, face_m = place
    return TrueDamage(
        name=name,
        heading=heading,
        day=day,
        at_m=draws.between(ROOM_M / 2, face_m - ROOM_M, name, "at"),
        zone=draws.one_of(of.zones, name, "zone"),
        kind=draws.one_of(of.kinds, name, "kind"),
        cause=of.cause,
        severity=draws.one_of(of.severities, name, "severity"),
        above_floor_m=draws.between(*of.above_floor_m, name, "above"),
        depth_mm=draws.between(*of.depth_mm, name, "depth"),
        told_at_once=draws.whether(of.told_at_once, name, "told"),
    )


def _bagged_by_the_tremor(draws: Draws) -> Iterator[TrueDamage]:
    for nth in range(TREMOR.bags):
        name = f"{TREMOR.heading}, tremor {nth}"
        yield TrueDamage(
            name=name,
            heading=TREMOR.heading,
            day=TREMOR.day,
            at_m=TREMOR.at_m + draws.between(-TREMOR.reach_m, TREMOR.reach_m, name, "at"),
            zone=_WALLS[nth % 2],
            kind="bagged mesh",
            cause="stress",
            severity="S2",
            above_floor_m=draws.between(0.8, 1.7, name, "above"),
            depth_mm=draws.between(140, 260, name, "depth"),
        )


def _rusted() -> Iterator[TrueDamage]:
    """Yield what the zinc's end leads to, one place after the other."""
    for nth, (day, at_m) in enumerate(((240, 466), (330, 474), (425, 491))):
        yield TrueDamage(
            name=f"{WET.heading}, rust {nth}",
            heading=WET.heading,
            day=day,
            at_m=at_m,
            zone="right wall",
            kind="rusted",
            cause="rust",
            severity="S1",
            above_floor_m=0.4,
            forgotten=nth == FORGOTTEN,
        )


def _pulled_loose(test: TrueTest) -> TrueDamage:
    """Give a bolt that slipped when it was pulled: it counts no more, and one beside it is due."""
    return TrueDamage(
        name=f"{test.name}, slipped",
        heading=test.heading,
        day=test.day,
        at_m=float(test.at_m),
        zone=test.zone,
        kind="bolt pulled",
        cause="installation",
        severity="S2",
        above_floor_m=2.0,
        told_at_once=True,
    )


def _too_weak(cored: TrueSet) -> TrueDamage:
    """Give shotcrete that its cores were too weak of: it is sprayed again."""
    return TrueDamage(
        name=f"{cored.heading}, weak shotcrete {cored.one.number}",
        heading=cored.heading,
        day=cored.day,
        at_m=float(cored.at_m),
        zone=cored.zone,
        kind="shotcrete weak",
        cause="installation",
        severity="S2",
        above_floor_m=2.0,
        told_at_once=True,
    )


def _found_and_repaired(draws: Draws, it: TrueDamage) -> TrueDamage | None:
    """Give it with when it was found and repaired; None where nobody has found it by now."""
    walks = (day for day in walk_days(it.heading) if day > it.day)
    seen_day = it.day + 0.02 if it.told_at_once else next(walks, ENDS + 1.0)
    stays = it.heading in PASTS and PASTS[it.heading].exposure == STAY
    due = (SOONER_DAYS if stays else DUE_DAYS)[it.severity]
    late = draws.whether(LATE_REPAIRS, it.name, "late")
    shares = (1.15, 1.7) if late else (0.35, 0.9)
    repaired_day = seen_day + due * draws.between(*shares, it.name, "repaired")
    if seen_day > ENDS:
        return None
    if repaired_day <= ENDS and not it.forgotten:
        return replace(it, seen_day=seen_day, repaired_day=repaired_day, late=late)
    closes_a_way = it.severity == "S3" or it.depth_mm > 0
    return None if closes_a_way else replace(it, seen_day=seen_day)
