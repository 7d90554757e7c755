"""What a bolt can carry, and whether a perfect pattern carries its own stated demand.

Used when a standard is read. Capacity is the least of steel at the thread, bond beyond the
loosened rock, and plate; a bolt's angle enters once, in the length that is left for bond.
"""

import math
from dataclasses import dataclass
from typing import Literal

GRAVITY_M_S2 = 9.81

Governs = Literal["steel", "bond", "plate"]


@dataclass(frozen=True)
class Capacity:
    """What a bolt can carry [kN], and which part gives way first."""

    kn: float
    governs: Governs


def thread_stress_area_mm2(diameter_mm: float, pitch_mm: float) -> float:
    """Give the tensile stress area of a metric thread.

    Parameters
    ----------
    diameter_mm : float
        Nominal diameter. [mm]
    pitch_mm : float
        Pitch of the thread. [mm]

    Returns
    -------
    float
        π/4·(d − 0.9382·p)². [mm2]

    Source
    ------
    ISO 898-1, nominal stress area.
    """
    return math.pi / 4 * (diameter_mm - 0.9382 * pitch_mm) ** 2


def bar_area_mm2(diameter_mm: float) -> float:
    """Give the area of a round bar or wire.

    Parameters
    ----------
    diameter_mm : float
        Diameter. [mm]

    Returns
    -------
    float
        Area of the steel. [mm2]

    Source
    ------
    Geometry.
    """
    return math.pi / 4 * diameter_mm**2


def steel_kn(area_mm2: float, stress_mpa: float) -> float:
    """Give what steel carries at a stress.

    Parameters
    ----------
    area_mm2 : float
        Area of the steel; at the thread, its stress area. [mm2]
    stress_mpa : float
        Yield or tensile stress. [MPa]

    Returns
    -------
    float
        Load. [kN]

    Source
    ------
    F = A·f.
    """
    return area_mm2 * stress_mpa / 1000


def bonded_beyond_m(
    length_m: float, loosened_m: float, angle_deg: float, resin_m: float = math.inf
) -> float:
    """Give the bonded length of a bolt beyond the loosened rock.

    Parameters
    ----------
    length_m : float
        Length in the rock. [m]
    loosened_m : float
        Depth of loosened rock, square to the surface. [m]
    angle_deg : float
        Off the normal to the rock. [deg]
    resin_m : float
        Bonded length, from the end of the hole; all of the bolt if not given. [m]

    Returns
    -------
    float
        L − t/cos(angle), and no more than is bonded; 0 if the bolt ends in loosened rock. [m]

    Source
    ------
    Geometry.
    """
    beyond_m = length_m - loosened_m / math.cos(math.radians(angle_deg))
    return max(0.0, min(beyond_m, resin_m))


def bolt_capacity(steel_load_kn: float, bond_load_kn: float, plate_load_kn: float) -> Capacity:
    """Find the part of a bolt that gives way first.

    Parameters
    ----------
    steel_load_kn : float
        Steel at the thread. [kN]
    bond_load_kn : float
        Bond beyond the loosened rock. [kN]
    plate_load_kn : float
        Plate and nut. [kN]

    Returns
    -------
    Capacity
        The least and its name. [kN]

    Source
    ------
    Common practice, no source: the weakest link.
    """
    parts: tuple[tuple[float, Governs], ...] = (
        (steel_load_kn, "steel"),
        (bond_load_kn, "bond"),
        (plate_load_kn, "plate"),
    )
    return Capacity(*min(parts, key=lambda part: part[0]))


def pattern_pressure_kpa(capacity_kn: float, spacing_m: float, row_spacing_m: float) -> float:
    """Give the pressure that a perfect pattern can hold.

    Parameters
    ----------
    capacity_kn : float
        Of one bolt. [kN]
    spacing_m : float
        Bolt spacing within the row. [m]
    row_spacing_m : float
        Row to row. [m]

    Returns
    -------
    float
        Capacity over the rock that one bolt carries, s·b. [kPa]

    Source
    ------
    Tributary area: common practice, no source.
    """
    return capacity_kn / (spacing_m * row_spacing_m)


def slab_pressure_kpa(loosened_m: float, density_kg_m3: float) -> float:
    """Give the weight of loosened rock over its area.

    Parameters
    ----------
    loosened_m : float
        Depth of loosened rock. [m]
    density_kg_m3 : float
        Density of the rock. [kg/m3]

    Returns
    -------
    float
        ρ·g·t. [kPa]

    Source
    ------
    Physics; g = 9.81 m/s².
    """
    return density_kg_m3 * GRAVITY_M_S2 * loosened_m / 1000
