"""What a class demands its support to carry, and what published rules say of its pattern.

The rules of Barton and of USACE stand beside the class's own figures, to be compared: they
refuse nothing.
"""

from decimal import Decimal
from typing import Final

from fieldapp.assess.capacity import GRAVITY_M_S2
from fieldapp.assess.load import barton, em_1110
from fieldapp.assess.load.demand import Demand, Demands, demands_of, q_of
from fieldapp.assess.load.perfect import bolts_of, perfect_pattern
from fieldapp.assess.standard_check.faults import metres, plain
from fieldapp.assess.standard_words.section import ClassSection, Line, Lines, limit_line
from schemas.load_rules import GroundDemand, RockMass
from schemas.numbers import STEP_FACTOR, STEP_KJ_PER_M2, STEP_KN, STEP_KPA, STEP_M2, rounded
from schemas.standard import SupportClass


def _load(support_class: SupportClass) -> Lines:
    demands, stated = demands_of(support_class), support_class.demand
    if demands is None or stated is None:
        return
    yield from _demanded(demands.back, stated)
    if stated.walls is not None:
        yield from _demanded(demands.walls, stated.walls)
    limit = support_class.limits.load
    if limit is not None:
        times = plain(limit.at_least_factor)
        yield limit_line(f"Each bolt carries at least {times} times what its ground asks.", limit)
    yield from _patterns(support_class, demands)


def _demanded(demand: Demand, stated: GroundDemand) -> Lines:
    where = f"The {demand.part} must be carried"
    loosened = f"with {metres(stated.loosened_m)} of rock loosened"
    if demand.pressure_kpa is not None:
        by = "" if stated.pressure_by == "stated" else f", by {_by(stated)}"
        pressure = f"{_said(demand.pressure_kpa, STEP_KPA)} kPa"
        yield Line(f"{where}: {pressure}{by}, {loosened}.", because=stated.because)
    if demand.energy_kj_per_m2 is not None and stated.energy is not None:
        energy = f"{_said(demand.energy_kj_per_m2, STEP_KJ_PER_M2)} kJ/m²"
        told = f"{where} when rock is thrown out: {energy}."
        yield Line(told, because=stated.energy.because)


def _by(stated: GroundDemand) -> str:
    if stated.pressure_by == "weight of loosened rock":
        return f"the {stated.pressure_by}"
    return stated.pressure_by


def _patterns(support_class: SupportClass, demands: Demands) -> Lines:
    for demand in (demands.back, demands.walls):
        for _, bolt in bolts_of(support_class, demand.part):
            perfect = perfect_pattern(support_class, bolt, demand)
            if demand.pressure_kpa is not None:
                kn = f"{_said(perfect.bolt_kn, STEP_KN)} kN"
                drawn = f"{_said(perfect.drawn_kpa, STEP_KPA)} kPa"
                widest = f"{_said(perfect.widest_kpa, STEP_KPA)} kPa at full tolerance"
                first = f"the {perfect.governs} gives way first"
                carries = f"{bolt.code} in the {demand.part} carries {kn}, {first}"
                yield Line(f"{carries}: a perfect pattern {drawn}, {widest}.")
            if demand.energy_kj_per_m2 is not None and perfect.widest_kj_per_m2 is not None:
                energy = f"{_said(perfect.widest_kj_per_m2, STEP_KJ_PER_M2)} kJ/m²"
                kind = "yielding" if bolt.yields else "stiff"
                told = f"{bolt.code}, {kind}, takes up {energy} in the {demand.part}"
                yield Line(f"{told} at full tolerance, alone.")


def _rules_of_thumb(support_class: SupportClass) -> Lines:
    rock = support_class.rock
    if rock is None:
        return
    if rock.rating is not None:
        yield from _barton(support_class, rock)
    yield from _army(support_class, rock)


def _barton(support_class: SupportClass, rock: RockMass) -> Lines:
    if rock.rating is None:
        return
    q, jn, jr = q_of(rock.rating), float(rock.rating.jn), float(rock.rating.jr)
    simple, by_sets = barton.pressure_simple_kpa(q, jr), barton.pressure_1974_kpa(q, jn, jr)
    forms = f"{_said(by_sets, STEP_KPA)} kPa by 1974 with Jn, {_said(simple, STEP_KPA)} by 200/Jr"
    wall = barton.pressure_1974_kpa(barton.wall_q(q), jn, jr)
    said = f"Q is {_said(q, STEP_FACTOR)}. Barton: {forms}; walls {_said(wall, STEP_KPA)} kPa."
    yield Line(said, because=rock.because)
    if rock.esr is not None:
        width_m = support_class.profile.width_m
        width, esr = float(width_m), float(rock.esr)
        stands = f"up to {_said(barton.unsupported_span_m(q, esr), STEP_M2)} m stand unsupported"
        span = f"De {_said(barton.equivalent_span_m(width, esr), STEP_M2)} m"
        length = f"bolts of {_said(barton.bolt_length_m(width, esr), STEP_M2)} m"
        yield Line(
            f"Barton for {metres(support_class.profile.width_m)}, {span}: {stands}; {length}."
        )


def _army(support_class: SupportClass, rock: RockMass) -> Lines:
    """Put the pattern beside the rules of thumb of the US Army's engineers."""
    width = float(support_class.profile.width_m)
    pattern, shortest = support_class.pattern, min(it.length_m for it in support_class.bolts)
    spacing_m = max(pattern.bolt_spacing_m, pattern.row_spacing_m)
    block_m = None if rock.block_m is None else float(rock.block_m)
    length = em_1110.least_length_m(width, float(spacing_m), block_m or 0.0)
    most = em_1110.greatest_spacing_m(float(shortest), block_m)
    unit_weight = float(rock.density_kg_per_m3) * GRAVITY_M_S2 / 1000
    pressure = em_1110.least_pressure_kpa(width, unit_weight, intersection=rock.intersection)
    rules = (
        f"bolts at least {_said(length, STEP_M2)} m long, at most {_said(most, STEP_M2)} m apart"
    )
    held = f"{_said(pressure, STEP_KPA)} kPa held"
    here = f"here {metres(shortest)} and {metres(spacing_m)}"
    yield Line(f"USACE EM 1110-1-2907: {rules}, {held}; {here}.", because=rock.because)


def _said(value: float, step: Decimal) -> str:
    return plain(rounded(value, step))


SECTIONS: Final[tuple[ClassSection, ...]] = (
    ("Load", _load),
    ("Rules of thumb, to compare", _rules_of_thumb),
)
