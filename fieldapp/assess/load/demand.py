"""What a class demands of its support, in the back and on the walls, worked out once."""

from dataclasses import dataclass
from typing import Literal

from fieldapp.assess.capacity import slab_pressure_kpa
from fieldapp.assess.load.barton import (
    pressure_1974_kpa,
    pressure_simple_kpa,
    q_value,
    wall_q,
)
from fieldapp.assess.load.energy import fallen_kj_per_m2, thrown_kj_per_m2
from schemas.load_rules import EnergyDemand, GroundDemand, RockMass, RockRating
from schemas.standard import SupportClass

Part = Literal["back", "walls"]
Of = Literal["pressure", "energy"]


@dataclass(frozen=True)
class Demand:
    """What one part of the drive must carry: kPa, kJ/m², and how deep it is loosened [m].

    None: nothing is demanded there. `unknown` says what is demanded by figures that the class
    doesn't state.
    """

    part: Part
    loosened_m: float
    pressure_kpa: float | None = None
    energy_kj_per_m2: float | None = None
    unknown: tuple[Of, ...] = ()


@dataclass(frozen=True)
class Demands:
    """Back and walls; the back has the shoulders, down to the springlines."""

    back: Demand
    walls: Demand


def demands_of(support_class: SupportClass) -> Demands | None:
    """Work out what a class demands of its support.

    Parameters
    ----------
    support_class : SupportClass
        The class. [various]

    Returns
    -------
    Demands or None
        None where it states none. [various]

    Source
    ------
    Physics, and Barton, Lien and Lunde 1974 where the class names that; see `barton`.
    """
    demand, rock = support_class.demand, support_class.rock
    if demand is None:
        return None
    back = _demand("back", demand, rock)
    if demand.walls is None:
        return Demands(back, Demand("walls", back.loosened_m))
    return Demands(back, _demand("walls", demand.walls, rock))


def q_of(rating: RockRating) -> float:
    """Give Q of the ratings that a class states.

    Parameters
    ----------
    rating : RockRating
        The six. [-]

    Returns
    -------
    float
        Q. [-]

    Source
    ------
    See `barton.q_value`.
    """
    return q_value(
        float(rating.rqd_percent), float(rating.jn), float(rating.jr),
        float(rating.ja), float(rating.jw), float(rating.srf),
    )  # fmt: skip


def pressure_of(demand: GroundDemand, rock: RockMass | None, part: Part) -> float | None:
    """Give the pressure that is demanded of one part of the drive.

    Parameters
    ----------
    demand : GroundDemand
        What its engineer states. [kPa]
    rock : RockMass or None
        Density and ratings, where the pressure comes from them. [various]
    part : Part
        Walls have a better Q than the back. [-]

    Returns
    -------
    float or None
        None where it is not stated, or the rock is not that it comes from. [kPa]

    Source
    ------
    ρ·g·t; Barton, Lien and Lunde 1974.
    """
    if demand.pressure_by == "stated":
        return None if demand.pressure_kpa is None else float(demand.pressure_kpa)
    if rock is None:
        return None
    if demand.pressure_by == "weight of loosened rock":
        return slab_pressure_kpa(float(demand.loosened_m), float(rock.density_kg_per_m3))
    if rock.rating is None:
        return None
    q, jr = q_of(rock.rating), float(rock.rating.jr)
    q = wall_q(q) if part == "walls" else q
    if demand.pressure_by == "Barton, 200/Jr":
        return pressure_simple_kpa(q, jr)
    return pressure_1974_kpa(q, float(rock.rating.jn), jr)


def energy_of(demand: EnergyDemand, rock: RockMass | None, part: Part) -> float | None:
    """Give the energy that is demanded of one part of the drive.

    Parameters
    ----------
    demand : EnergyDemand
        Stated, or the slab that is thrown out. [various]
    rock : RockMass or None
        Its density. [kg/m3]
    part : Part
        Only the back's rock falls on while the support yields. [-]

    Returns
    -------
    float or None
        None where too little is stated. [kJ/m2]

    Source
    ------
    ½·ρ·t·v², and ρ·g·t times the travel in the back.
    """
    if demand.energy_kj_per_m2 is not None:
        return float(demand.energy_kj_per_m2)
    if rock is None or demand.ejected_m is None or demand.velocity_m_per_s is None:
        return None
    if part == "back" and demand.yield_travel_m is None:
        return None
    slab = float(demand.ejected_m), float(rock.density_kg_per_m3)
    thrown = thrown_kj_per_m2(*slab, float(demand.velocity_m_per_s))
    travel_m = float(demand.yield_travel_m or 0) if part == "back" else 0.0
    return thrown + fallen_kj_per_m2(*slab, travel_m)


def _demand(part: Part, stated: GroundDemand, rock: RockMass | None) -> Demand:
    pressure = pressure_of(stated, rock, part)
    energy = None if stated.energy is None else energy_of(stated.energy, rock, part)
    unknown: list[Of] = []
    if pressure is None and stated.pressure_by != "stated":
        unknown.append("pressure")
    if energy is None and stated.energy is not None:
        unknown.append("energy")
    return Demand(part, float(stated.loosened_m), pressure, energy, tuple(unknown))
