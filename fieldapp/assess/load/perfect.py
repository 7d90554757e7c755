"""What a perfect pattern of one kind of bolt carries, as its class draws it.

At its widest every spacing has its full tolerance, and every bolt leans as far as it may and
still counts.
"""

from dataclasses import dataclass

from fieldapp.assess.capacity import Governs, pattern_pressure_kpa
from fieldapp.assess.load.carried import WALLS, capacity_of
from fieldapp.assess.load.demand import Demand, Part
from schemas.standard import BoltType, SupportClass


@dataclass(frozen=True)
class PerfectPattern:
    """What one bolt carries [kN] and what gives way first, and all of them [kPa, kJ/m²].

    The energy is None where the type states none.
    """

    bolt_kn: float
    governs: Governs
    drawn_kpa: float
    widest_kpa: float
    widest_kj_per_m2: float | None


def bolts_of(support_class: SupportClass, part: Part) -> tuple[tuple[int, BoltType], ...]:
    """Give the kinds of bolt that belong in a part of the drive.

    Parameters
    ----------
    support_class : SupportClass
        The class. [-]
    part : Part
        Back, with its shoulders, or walls. [-]

    Returns
    -------
    tuple of (int, BoltType)
        Each with its number in the class. [-]

    Source
    ------
    Common practice, no source.
    """
    walls = part == "walls"
    return tuple(
        (index, bolt)
        for index, bolt in enumerate(support_class.bolts)
        if any((zone in WALLS) == walls for zone in bolt.zones)
    )


def perfect_pattern(support_class: SupportClass, bolt: BoltType, demand: Demand) -> PerfectPattern:
    """Give what a perfect pattern of one kind of bolt carries.

    Parameters
    ----------
    support_class : SupportClass
        Pattern, tolerances and the greatest angle. [m, deg]
    bolt : BoltType
        The kind of bolt. [various]
    demand : Demand
        How deep the rock is loosened. [m]

    Returns
    -------
    PerfectPattern
        Load and energy over the rock that one bolt carries. [kPa, kJ/m2]

    Source
    ------
    Tributary area, s·b, square or staggered: common practice, no source.
    """
    pattern, limits = support_class.pattern, support_class.limits
    spacing_m, rows_m = float(pattern.bolt_spacing_m), float(pattern.row_spacing_m)
    wide_m = spacing_m + float(pattern.bolt_spacing_tolerance_m)
    wide_rows_m = rows_m + float(pattern.row_spacing_tolerance_m)
    placed = float(bolt.length_m), demand.loosened_m
    square = capacity_of(bolt, (*placed, 0.0), plated=True)
    slanted = capacity_of(bolt, (*placed, float(limits.bolt_angle.at_most_deg)), plated=True)
    energy = None if bolt.energy_kj is None else float(bolt.energy_kj)
    return PerfectPattern(
        bolt_kn=square.kn,
        governs=slanted.governs,
        drawn_kpa=pattern_pressure_kpa(square.kn, spacing_m, rows_m),
        widest_kpa=pattern_pressure_kpa(slanted.kn, wide_m, wide_rows_m),
        widest_kj_per_m2=None if energy is None else energy / (wide_m * wide_rows_m),
    )
