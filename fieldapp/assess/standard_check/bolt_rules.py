"""Whether the bolts are where the class needs them, and hold as it says."""

from collections.abc import Iterator
from decimal import Decimal
from math import pi
from typing import Final, get_args

from fieldapp.assess.standard_check.faults import ClassRule, Fault, Refusal, plain
from schemas.standard import SupportClass, Zone


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


def _when_new(support_class: SupportClass) -> Iterator[Fault]:
    """Refuse originals that can't be: what is read on a walk is compared with them."""
    for index, bolt in enumerate(support_class.bolts):
        path = f".bolts[{index}]"
        if bolt.tube_wall_mm is not None and bolt.kind != "friction bolt":
            yield Refusal(f"{path}.tube_wall_mm", f"a {bolt.kind} is no tube")
        if bolt.tube_wall_mm == 0:
            yield Refusal(f"{path}.tube_wall_mm", "a tube without a wall carries nothing")
        if bolt.bar_mm is not None and _bar_mm2(bolt.bar_mm) < float(bolt.thread_area_mm2):
            thread = f"its thread has {plain(bolt.thread_area_mm2)} mm²"
            reason = f"a bar of {plain(bolt.bar_mm)} mm has less steel: {thread}"
            yield Refusal(f"{path}.bar_mm", reason)


def _bar_mm2(across_mm: Decimal) -> float:
    return pi * float(across_mm) ** 2 / 4


RULES: Final[tuple[ClassRule, ...]] = (
    _codes,
    _zones,
    _anchorage,
    _curing_strength,
    _when_new,
)
