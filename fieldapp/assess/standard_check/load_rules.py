"""Whether a class says what its support must carry, and its perfect pattern carries it."""

from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise
from typing import Final

from fieldapp.assess.capacity import GRAVITY_M_S2
from fieldapp.assess.load.demand import Demand, Part, demands_of
from fieldapp.assess.load.perfect import PerfectPattern, bolts_of, perfect_pattern
from fieldapp.assess.standard_check.faults import (
    Caution,
    ClassRule,
    Fault,
    Refusal,
    StandardRule,
    metres,
    plain,
)
from schemas.load_rules import EnergyDemand, GroundDemand, PressureBy
from schemas.numbers import STEP_KJ_PER_M2, STEP_KPA, rounded
from schemas.standard import BoltType, Standard, SupportClass

_WATER_KG_PER_M3: Final = 1000
"""No rock that is supported is lighter; a unit weight in kN/m³ would be, as a density."""


def _rock(support_class: SupportClass) -> Iterator[Fault]:
    rock = support_class.rock
    if rock is None or rock.density_kg_per_m3 >= _WATER_KG_PER_M3:
        return
    meant = rounded(float(rock.density_kg_per_m3) * 1000 / GRAVITY_M_S2, Decimal(1))
    figure = plain(rock.density_kg_per_m3)
    reason = f"no rock is as light as {figure} kg/m³; {figure} kN/m³ is {plain(meant)} kg/m³"
    yield Refusal(".rock.density_kg_per_m3", reason)


def _limit(support_class: SupportClass) -> Iterator[Fault]:
    demand, limit = support_class.demand, support_class.limits.load
    if limit is not None and demand is None:
        yield Refusal(".demand", "nothing says what the support must carry, and a limit asks it")
    if limit is None and demand is not None:
        yield Caution(".limits.load", "a demand is stated, and no round is judged by it")


def _stated(support_class: SupportClass) -> Iterator[Fault]:
    for part, path, ground in _grounds(support_class):
        if ground.pressure_by == "stated":
            if ground.pressure_kpa is None and ground.energy is None:
                yield Refusal(f"{path}.pressure_kpa", "neither a pressure nor energy is demanded")
        else:
            yield from _reckoned(support_class, ground, path)
        if ground.energy is not None:
            yield from _energy_stated(support_class, ground.energy, (part, f"{path}.energy"))


def _grounds(support_class: SupportClass) -> Iterator[tuple[Part, str, GroundDemand]]:
    if support_class.demand is not None:
        yield "back", ".demand", support_class.demand
        if support_class.demand.walls is not None:
            yield "walls", ".demand.walls", support_class.demand.walls


def _reckoned(support_class: SupportClass, ground: GroundDemand, path: str) -> Iterator[Fault]:
    rock = support_class.rock
    if ground.pressure_kpa is not None:
        reason = f"it is stated, and it comes from “{ground.pressure_by}”: one of both"
        yield Refusal(f"{path}.pressure_kpa", reason)
    if rock is None:
        yield Refusal(".rock", f"“{ground.pressure_by}” is reckoned from rock that nobody states")
    elif ground.pressure_by == "weight of loosened rock":
        if ground.loosened_m == 0:
            yield Refusal(f"{path}.loosened_m", "no rock is loosened, so none would be carried")
    elif rock.rating is None:
        yield Refusal(".rock.rating", f"“{ground.pressure_by}” is reckoned from its ratings")


def _energy_stated(
    support_class: SupportClass, energy: EnergyDemand, at: tuple[Part, str]
) -> Iterator[Fault]:
    part, path = at
    thrown = {"ejected_m": energy.ejected_m, "velocity_m_per_s": energy.velocity_m_per_s}
    if part == "back":
        thrown["yield_travel_m"] = energy.yield_travel_m
    if energy.energy_kj_per_m2 is not None:
        if any(value is not None for value in thrown.values()):
            reason = "it is stated, and the rock that is thrown out is too: one of both"
            yield Refusal(f"{path}.energy_kj_per_m2", reason)
        return
    for name, value in thrown.items():
        if value is None:
            yield Refusal(f"{path}.{name}", "the energy is not stated, and can't be reckoned")
    if support_class.rock is None:
        yield Refusal(".rock", "the energy is reckoned from rock that nobody states")


def _length(support_class: SupportClass) -> Iterator[Fault]:
    for part, _, ground in _grounds(support_class):
        for index, bolt in bolts_of(support_class, part):
            if bolt.length_m <= ground.loosened_m:
                reason = f"a bolt of {metres(bolt.length_m)} ends in rock that is taken to be"
                path = f".bolts[{index}].length_m"
                yield Refusal(path, f"{reason} loose to {metres(ground.loosened_m)}")


def _carried(support_class: SupportClass) -> Iterator[Fault]:
    demands = demands_of(support_class)
    if demands is None or support_class.pattern.bolt_spacing_m <= 0:
        return
    for part, path, ground in _grounds(support_class):
        demand = demands.back if part == "back" else demands.walls
        patterns = [
            (bolt, perfect_pattern(support_class, bolt, demand))
            for _, bolt in bolts_of(support_class, demand.part)
        ]
        if demand.pressure_kpa is not None:
            whence = f"{path}.{_WRITTEN_IN[ground.pressure_by]}"
            for bolt, perfect in patterns:
                yield from _pressure(support_class, bolt, perfect, (demand, whence))
        if demand.energy_kj_per_m2 is not None:
            yield from _energy(support_class, patterns, demand, path)


_WRITTEN_IN: Final[dict[PressureBy, str]] = {
    "stated": "pressure_kpa",
    "weight of loosened rock": "loosened_m",
    "Barton 1974, with Jn": "pressure_by",
    "Barton, 200/Jr": "pressure_by",
}
"""Where the pressure that is demanded stands, or what it comes from."""


def _times(support_class: SupportClass) -> float:
    limit = support_class.limits.load
    return 1.0 if limit is None else float(limit.at_least_factor)


def _pressure(
    support_class: SupportClass, bolt: BoltType, perfect: PerfectPattern, at: tuple[Demand, str]
) -> Iterator[Fault]:
    demand, path = at
    asked = rounded((demand.pressure_kpa or 0.0) * _times(support_class), STEP_KPA)
    drawn = rounded(perfect.drawn_kpa, STEP_KPA)
    widest = rounded(perfect.widest_kpa, STEP_KPA)
    if widest >= asked:
        return
    carries = f"a perfect pattern of {bolt.name} carries {plain(drawn)} kPa"
    if drawn >= asked:
        carries = f"at full tolerance {bolt.name} carries {plain(widest)} kPa"
    needed = f"{plain(asked)} kPa are demanded{_as_many_times(support_class, demand)}"
    reason = f"{carries}, {needed}; the {perfect.governs} gives way first"
    yield Refusal(path, reason)


def _as_many_times(support_class: SupportClass, demand: Demand) -> str:
    times, limit = _times(support_class), support_class.limits.load
    if limit is None or times == 1:
        return ""
    pressure = rounded(demand.pressure_kpa or 0.0, STEP_KPA)
    return f", {plain(limit.at_least_factor)} × {plain(pressure)}"


def _energy(
    support_class: SupportClass,
    patterns: list[tuple[BoltType, PerfectPattern]],
    demand: Demand,
    path: str,
) -> Iterator[Fault]:
    """Refuse what no kind of bolt carries by itself: they are never summed."""
    asked = rounded((demand.energy_kj_per_m2 or 0.0) * _times(support_class), STEP_KJ_PER_M2)
    needed = f"{plain(asked)} kJ/m² are demanded"
    stated = [
        (rounded(perfect.widest_kj_per_m2, STEP_KJ_PER_M2), bolt)
        for bolt, perfect in patterns
        if perfect.widest_kj_per_m2 is not None
    ]
    if not stated:
        reason = f"no kind of bolt of the {demand.part} states its energy, {needed}"
        first = bolts_of(support_class, demand.part)[:1]
        yield from (Refusal(f".bolts[{index}].energy_kj", reason) for index, _ in first)
        return
    most, bolt = max(stated, key=lambda one: one[0])
    if most < asked:
        reason = f"at full tolerance {bolt.name} takes up {plain(most)} kJ/m², {needed}"
        yield Refusal(f"{path}.energy", reason)


def _rust(standard: Standard) -> Iterator[Fault]:
    """Refuse a standard that judges load and does not say what rust leaves of a bolt."""
    rule = standard.corrosion
    if all(known.limits.load is None for known in standard.classes):
        return
    stated = {it.grade: (index, it.share_left) for index, it in enumerate(rule.grades)}
    for grade in range(1, rule.bolt_counts_below_grade):
        index, share = stated.get(grade, (None, None))
        if share is None:
            place = "" if index is None else f"[{index}].share_left"
            reason = f"nothing says what a bolt of grade {grade} still carries, and it counts"
            yield Refusal(f"$.corrosion.grades{place}", reason)
    shares = sorted((grade, *it) for grade, it in stated.items() if it[1] is not None)
    for (_, _, milder), (grade, index, worse) in pairwise(shares):
        if milder is not None and worse is not None and worse > milder:
            path = f"$.corrosion.grades[{index}].share_left"
            yield Refusal(path, f"grade {grade} leaves more than the grade before it")


RULES: Final[tuple[ClassRule, ...]] = (_rock, _limit, _stated, _length, _carried)
WHOLE_RULES: Final[tuple[StandardRule, ...]] = (_rust,)
