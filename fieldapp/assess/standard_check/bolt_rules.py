"""Whether the bolts are where the class needs them, and hold as it says."""

from collections.abc import Iterator
from decimal import Decimal
from typing import Final, get_args

from fieldapp.assess.capacity import bar_area_mm2, thread_stress_area_mm2
from fieldapp.assess.standard_check.faults import Caution, ClassRule, Fault, Refusal, plain
from schemas.standard import BoltType, SupportClass, Zone

COARSE_PITCH_MM: Final[dict[Decimal, float]] = {
    Decimal(16): 2.0,
    Decimal(20): 2.5,
    Decimal(22): 2.5,
    Decimal(24): 3.0,
    Decimal(27): 3.0,
    Decimal(30): 3.5,
}
"""ISO 261, from memory."""
ROUNDED_UP: Final = 1.01
"""So much more than the formula gives, tables print."""


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
        if bolt.bar_mm is not None and bar_area_mm2(float(bolt.bar_mm)) < float(
            bolt.thread_area_mm2
        ):
            thread = f"its thread has {plain(bolt.thread_area_mm2)} mm²"
            reason = f"a bar of {plain(bolt.bar_mm)} mm has less steel: {thread}"
            yield Refusal(f"{path}.bar_mm", reason)
        yield from _coarse_thread(index, bolt)


def _coarse_thread(index: int, bolt: BoltType) -> Iterator[Fault]:
    """Warn of more thread than a coarse one of that bar has: a fine one, or a slip of the pen."""
    pitch_mm = COARSE_PITCH_MM.get(bolt.bar_mm or Decimal(0))
    if pitch_mm is None or bolt.kind == "friction bolt":
        return
    assert bolt.bar_mm is not None  # noqa: S101 - it has a pitch
    has_mm2 = thread_stress_area_mm2(float(bolt.bar_mm), pitch_mm)
    if float(bolt.thread_area_mm2) > has_mm2 * ROUNDED_UP:
        said = f"a coarse M{plain(bolt.bar_mm)} thread has {has_mm2:.0f} mm² (ISO 898-1)"
        reason = f"{said}, fewer than the {plain(bolt.thread_area_mm2)} mm² that stand here"
        yield Caution(f".bolts[{index}].thread_area_mm2", reason)


RULES: Final[tuple[ClassRule, ...]] = (
    _codes,
    _zones,
    _anchorage,
    _curing_strength,
    _when_new,
)
