"""What one bolt can carry as it was seen: its steel, bond and plate, and what rust left.

A bolt whose plate is loose carries only where it is anchored all the same; then the rock at its
head is held by bond in the loosened rock, instead of by the plate. Resin that fills a part of the
hole lies at its end: a point anchor is bonded along its anchor, however long the bolt is.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import Final

from fieldapp.assess.bolt_rules import Rules, length_of, types_of
from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.capacity import Capacity, bolt_capacity, bonded_beyond_m, steel_kn
from fieldapp.assess.load.demand import Demands
from schemas.standard import BoltType

WALLS: Final = frozenset({"left wall", "right wall"})


@dataclass(frozen=True)
class Carried:
    """What a bolt carries [kN], which part gives way first, and what energy it takes up [kJ].

    `untold_grade` is that of rust of which the standard doesn't say what it leaves; the bolt is
    counted as new meanwhile, so that what is wrong already shows.
    """

    capacity: Capacity
    energy_kj: float
    yields: bool
    untold_grade: int | None = None


def carried(bolt: Bolt, rules: Rules, demands: Demands) -> Carried:
    """Give what a bolt carries as it was seen.

    Parameters
    ----------
    bolt : Bolt
        One bolt. [-]
    rules : Rules
        Types of the class, and what the bolter said. [various]
    demands : Demands
        How deep the rock is loosened where it stands. [m]

    Returns
    -------
    Carried
        The least of the types that it can be, at the greatest angle at which it counts unless
        its own was read; nothing of a bolt that does not count. [kN, kJ]

    Source
    ------
    Common practice, no source: the weakest link, see `capacity.bolt_capacity`.
    """
    nothing = Carried(Capacity(0.0, "steel"), 0.0, yields=False)
    if not bolt.anchored:
        return nothing
    types = types_of(bolt.mark, bolt.zone, rules)
    if not types:
        return nothing
    loosened_m = (demands.walls if bolt.zone in WALLS else demands.back).loosened_m
    share, untold = _left(bolt, rules.shares_left)
    angle = rules.angle_at_most_deg
    if bolt.mark is not None and bolt.mark.angle_deg is not None:
        angle = bolt.mark.angle_deg
    each = [
        capacity_of(
            it,
            (float(length_of(bolt.mark, rules, it)), loosened_m, float(angle)),
            plated=bolt.plated,
        )
        for it in types
    ]
    least = min(each, key=lambda capacity: capacity.kn)
    energy = min(float(it.energy_kj or 0) for it in types) if bolt.plated else 0.0
    return Carried(
        Capacity(least.kn * share, least.governs),
        energy * share,
        yields=all(it.yields for it in types),
        untold_grade=untold,
    )


@lru_cache(maxsize=256)
def capacity_of(
    bolt_type: BoltType, placed: tuple[float, float, float], *, plated: bool
) -> Capacity:
    """Give what a new bolt of a type carries.

    Parameters
    ----------
    bolt_type : BoltType
        Steel, bond and plate. [various]
    placed : (length, loosened depth, angle)
        Its length, how deep the rock is loosened, and its angle off the normal. [m, m, deg]
    plated : bool
        Its plate is seated; otherwise bond in the loosened rock holds that. [-]

    Returns
    -------
    Capacity
        The least. [kN]

    Source
    ------
    Common practice, no source: the weakest link. The angle enters once, in the bond beyond.
    """
    length_m, loosened_m, angle_deg = placed
    bond = float(bolt_type.bond_kn_per_m)
    resin_m = min(
        length_m, float(bolt_type.length_m if bolt_type.resin_m is None else bolt_type.resin_m)
    )
    beyond_m = bonded_beyond_m(length_m, loosened_m, min(angle_deg, _STEEPEST_DEG), resin_m)
    return bolt_capacity(
        steel_kn(float(bolt_type.thread_area_mm2), float(bolt_type.steel_mpa)),
        bond * beyond_m,
        float(bolt_type.plate_kn) if plated else bond * min(loosened_m, resin_m - beyond_m),
    )


_STEEPEST_DEG: Final = math.degrees(math.acos(1e-6))
"""A bolt along the rock: nothing of it lies beyond."""


def _left(bolt: Bolt, shares: Mapping[int, Decimal]) -> tuple[float, int | None]:
    grade = None if bolt.mark is None else bolt.mark.corrosion_grade
    if grade is None or (grade == 0 and grade not in shares):
        return 1.0, None
    return (float(shares[grade]), None) if grade in shares else (1.0, grade)
