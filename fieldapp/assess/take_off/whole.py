"""What an advance takes in all: bolts and plates, mesh and resin, per round and per metre."""

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from fieldapp.assess.demanded import line_of, pattern_of, profile_of
from fieldapp.assess.pattern import LastOldRow, demanded_rows, zone_of
from fieldapp.assess.readings import last_row_m
from fieldapp.assess.seen import borders_of
from fieldapp.assess.take_off.mesh import MeshNeeded, mesh_needed
from fieldapp.assess.take_off.resin import ResinOfBolt, resin_of_bolt
from schemas.bodies.round import ProfileSeen, Round
from schemas.numbers import STEP_M, rounded
from schemas.standard import BoltType, SupportClass
from schemas.trouble import BadInput

Kind = Literal["bolts", "plates", "sheets", "strips", "mesh", "rolls", "packs", "capsules"]

_LONGEST_M = Decimal(100)
_STEP = Decimal("0.001")


@dataclass(eq=False)
class NoSuchAdvance(BadInput):
    """Nobody advances so far in one round."""

    advance_m: Decimal
    happened = "{advance_m} m is no advance of a round."
    kept = "Nothing was changed."
    do_next = "Give the advance in metres, such as 3.6."


@dataclass(frozen=True)
class Wanted:
    """What is to be supported: an advance, the lap, and the drive as it was broken."""

    advance_m: Decimal
    lap_mm: Decimal
    profiles: tuple[ProfileSeen | None, ...]
    """Of each row, as it was measured; None: as designed."""
    after_offset_row: bool = False
    """Whether the last old row is an offset row of a staggered pattern."""

    @property
    def rows(self) -> int:
        """How many rows are put up."""
        return len(self.profiles)


@dataclass(frozen=True)
class Item:
    """So much of one thing; mesh in square metres, everything else counted."""

    kind: Kind
    of: str
    """Code of a bolt, size of a plate; empty where there is one of it only."""
    per_round: Decimal
    per_metre: Decimal


@dataclass(frozen=True)
class TakeOff:
    """What a round takes by the standard."""

    support_class: str
    wanted: Wanted
    line_m: Decimal
    """Length of rock that a row supports, the longest row's."""
    items: tuple[Item, ...]
    mesh: MeshNeeded | None
    resin: tuple[ResinOfBolt, ...]
    parts: tuple["TakeOff", ...] = ()
    """Of a round with two ground domains, each by its class; what is above is their sum."""


def wanted_for(
    support_class: SupportClass,
    advance_m: Decimal,
    lap_mm: Decimal | None = None,
    profile: ProfileSeen | None = None,
    *,
    after_offset_row: bool = False,
) -> Wanted:
    """Say what an advance wants in rows and laps.

    Parameters
    ----------
    support_class : SupportClass
        The class in force. [various]
    advance_m : Decimal
        How far the round gets. [m]
    lap_mm : Decimal or None
        Of the mesh; None: the least that the class demands. [mm]
    profile : ProfileSeen or None
        The drive as it was broken; None: as designed. [m]
    after_offset_row : bool
        The last old row is an offset row. [-]

    Returns
    -------
    Wanted
        With ⌈advance/row spacing⌉ rows. [various]

    Raises
    ------
    NoSuchAdvance
        It is nought, or longer than any round.

    Source
    ------
    Common practice, no source.
    """
    if not 0 < advance_m <= _LONGEST_M:
        raise NoSuchAdvance(advance_m)
    rows = math.ceil(Fraction(advance_m) / Fraction(support_class.pattern.row_spacing_m))
    lap = least_lap_mm(support_class) if lap_mm is None else lap_mm
    return Wanted(advance_m, lap, (profile,) * rows, after_offset_row)


def wanted_by_round(support_class: SupportClass, seen: Round) -> Wanted:
    """Say what a recorded round wanted, by how far its rows really got.

    Parameters
    ----------
    support_class : SupportClass
        The class that it is put up by. [various]
    seen : Round
        The round. [various]

    Returns
    -------
    Wanted
        Its rows; from the joint to its last row, as read where that was read. [various]

    Source
    ------
    Common practice, no source.
    """
    rows = max([seen.rows_planned, *(row.number for row in seen.rows)])
    read_m = last_row_m(seen) - seen.joint_m
    return Wanted(
        advance_m=read_m or rows * support_class.pattern.row_spacing_m,
        lap_mm=least_lap_mm(support_class),
        profiles=tuple(seen.profile_at(number) for number in range(1, rows + 1)),
        after_offset_row=bool(seen.old_rows and seen.old_rows[-1].staggered),
    )


def least_lap_mm(support_class: SupportClass) -> Decimal:
    """Give the least lap that a class demands.

    Parameters
    ----------
    support_class : SupportClass
        The class. [mm]

    Returns
    -------
    Decimal
        0 where it demands none. [mm]

    Source
    ------
    Common practice, no source.
    """
    lap = support_class.limits.mesh_lap
    return Decimal(0) if lap is None else lap.at_least_mm


def take_off(support_class: SupportClass, wanted: Wanted) -> TakeOff:
    """Say what a round takes by the standard.

    Parameters
    ----------
    support_class : SupportClass
        The class that it is put up by. [various]
    wanted : Wanted
        Advance, lap, rows and profile. [various]

    Returns
    -------
    TakeOff
        Whole things per round; per metre is that shared out over the advance. Bolts by each
        row's own profile, mesh by the longest row: no strip ends short. [various]

    Raises
    ------
    LapLargerThanSheet
        The lap leaves no mesh to advance by.

    Source
    ------
    Common practice, no source.
    """
    lines = (line_of(support_class, it) for it in set(wanted.profiles))
    line_m = rounded(max(it.length_m for it in lines), STEP_M)
    bolts = _bolts(support_class, wanted)
    resin = tuple(filter(None, (resin_of_bolt(bolt) for bolt, _ in bolts)))
    mesh = None
    if support_class.mesh is not None:
        lap_m = wanted.lap_mm / 1000
        mesh = mesh_needed(support_class.mesh, line_m, wanted.advance_m, lap_m)
    counted = (*_of_bolts(bolts, resin), *(_of_mesh(mesh) if mesh else ()))
    items = tuple(_item(kind, of, much, wanted.advance_m) for kind, of, much in counted)
    return TakeOff(support_class.code, wanted, line_m, items, mesh, resin)


_Counted = tuple[Kind, str, Fraction]


def _bolts(support_class: SupportClass, wanted: Wanted) -> list[tuple[BoltType, int]]:
    """Count the bolts of each type that the pattern demands, in the order of the standard."""
    lines = [line_of(support_class, it) for it in wanted.profiles]
    joint = LastOldRow(0.0, wanted.after_offset_row)
    rows = demanded_rows(pattern_of(support_class), lines, joint, 0.0)
    zones = Counter[str]()
    for row, broken in zip(rows, wanted.profiles, strict=True):
        borders = borders_of(support_class, profile_of(support_class.profile, broken))
        zones.update(zone_of(s_m, borders) for s_m in row.s_m)
    by_type = Counter[str]()
    for zone, count in zones.items():
        by_type[_type_for(support_class, zone).code] += count
    return [(it, by_type[it.code]) for it in support_class.bolts if by_type[it.code]]


def _type_for(support_class: SupportClass, zone: str) -> BoltType:
    """Give the first type that is named for a zone; where none is, the first of the class."""
    named = (it for it in support_class.bolts if zone in it.zones)
    return next(named, support_class.bolts[0])


def _of_bolts(
    bolts: list[tuple[BoltType, int]], resin: tuple[ResinOfBolt, ...]
) -> Iterator[_Counted]:
    plates = Counter[Decimal]()
    for bolt, count in bolts:
        yield "bolts", bolt.code, Fraction(count)
        plates[bolt.plate_mm] += count
    for plate_mm, count in plates.items():
        yield "plates", f"{plate_mm.normalize():f} mm", Fraction(count)
    each = {it.bolt_type: it.capsules for it in resin}
    for bolt, count in bolts:
        if bolt.code in each:
            yield "capsules", bolt.code, Fraction(count * each[bolt.code])


def _of_mesh(mesh: MeshNeeded) -> Iterator[_Counted]:
    pieces = Fraction(mesh.pieces)
    yield ("sheets" if mesh.strip is None else "strips"), "", pieces
    yield "mesh", "", Fraction(mesh.area_m2)
    if mesh.strip is not None and mesh.strip.per_roll:
        yield "rolls", "", pieces / mesh.strip.per_roll
    if mesh.strip is not None and mesh.strip.per_pack:
        yield "packs", "", pieces / mesh.strip.per_pack


def _item(kind: Kind, of: str, much: Fraction, advance_m: Decimal) -> Item:
    return Item(kind, of, _decimal(much), _decimal(much / Fraction(advance_m)))


def _decimal(value: Fraction) -> Decimal:
    return rounded(Decimal(value.numerator) / Decimal(value.denominator), _STEP)
