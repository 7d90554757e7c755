"""Whether the bolts are where the class needs them and carry what it says they must."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Final, get_args

from fieldapp.assess.capacity import (
    Capacity,
    bolt_capacity,
    bonded_beyond_m,
    pattern_pressure_kpa,
    steel_kn,
)
from fieldapp.assess.standard_check.faults import (
    Caution,
    ClassRule,
    Fault,
    Refusal,
    metres,
    plain,
)
from schemas.numbers import STEP_KPA, rounded
from schemas.standard import BoltType, SupportClass, SupportDemand, Zone


def _codes(support_class: SupportClass) -> Iterator[Fault]:
    codes = [bolt.code for bolt in support_class.bolts]
    for index, code in enumerate(codes):
        if code in codes[:index]:
            yield Refusal(f".bolts[{index}].code", f"two kinds of bolt share the code {code}")


def _zones(support_class: SupportClass) -> Iterator[Fault]:
    covered = {zone for bolt in support_class.bolts for zone in bolt.zones}
    for zone in get_args(Zone):
        if zone not in covered:
            yield Refusal(".bolts", f"no kind of bolt is named for the {zone}")


def _anchorage(support_class: SupportClass) -> Iterator[Fault]:
    for index, bolt in enumerate(support_class.bolts):
        loose = bolt.anchored_with_loose_plate
        if loose and bolt.kind in ("friction bolt", "point-anchored bolt"):
            reason = f"a {bolt.kind} with a loose plate holds nothing"
            yield Refusal(f".bolts[{index}].anchored_with_loose_plate", reason)
        if bolt.plate_mm == 0:
            yield Refusal(f".bolts[{index}].plate_mm", "a bolt without a plate holds no surface")


def _curing_strength(support_class: SupportClass) -> Iterator[Fault]:
    for index, bolt in enumerate(support_class.bolts):
        if bolt.curing is not None and bolt.curing.strength_mpa is not None:
            reason = "a round has no reading of the strength of grout, only of shotcrete"
            path = f".bolts[{index}].curing.strength_mpa"
            yield Refusal(path, f"{reason}; state the hours after which it has that strength")


def _length(support_class: SupportClass) -> Iterator[Fault]:
    demand = support_class.demand
    for index, bolt in enumerate(support_class.bolts):
        if demand is not None and bolt.length_m <= demand.loosened_m:
            reason = f"a bolt of {metres(bolt.length_m)} ends in rock that is taken to be loose"
            path = f".bolts[{index}].length_m"
            yield Refusal(path, f"{reason} to {metres(demand.loosened_m)}")


def _load(support_class: SupportClass) -> Iterator[Fault]:
    demand, pattern = support_class.demand, support_class.pattern
    if demand is None:
        return
    widest = (
        pattern.bolt_spacing_m + pattern.bolt_spacing_tolerance_m,
        pattern.row_spacing_m + pattern.row_spacing_tolerance_m,
    )
    for bolt in support_class.bolts:
        capacity = _capacity(bolt, demand)
        perfect = _pressure_kpa(capacity, pattern.bolt_spacing_m, pattern.row_spacing_m)
        wide = _pressure_kpa(capacity, *widest)
        needed = f"{plain(demand.pressure_kpa)} kPa are demanded"
        if perfect < demand.pressure_kpa:
            carries = f"a perfect pattern of {bolt.name} carries {plain(perfect)} kPa"
            reason = f"{carries}, {needed}; the {capacity.governs} gives way first"
            yield Refusal(".demand.pressure_kpa", reason)
        elif wide < demand.pressure_kpa:
            carries = f"at full tolerance {bolt.name} carries {plain(wide)} kPa"
            yield Caution(".demand.pressure_kpa", f"{carries}, {needed}")


def _capacity(bolt: BoltType, demand: SupportDemand) -> Capacity:
    beyond_m = bonded_beyond_m(float(bolt.length_m), float(demand.loosened_m), 0.0)
    return bolt_capacity(
        steel_kn(float(bolt.thread_area_mm2), float(bolt.steel_mpa)),
        float(bolt.bond_kn_per_m) * beyond_m,
        float(bolt.plate_kn),
    )


def _pressure_kpa(capacity: Capacity, spacing_m: Decimal, row_spacing_m: Decimal) -> Decimal:
    pressure = pattern_pressure_kpa(capacity.kn, float(spacing_m), float(row_spacing_m))
    return rounded(pressure, STEP_KPA)


RULES: Final[tuple[ClassRule, ...]] = (
    _codes,
    _zones,
    _anchorage,
    _curing_strength,
    _length,
    _load,
)
