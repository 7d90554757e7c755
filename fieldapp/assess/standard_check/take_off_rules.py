"""Whether holes, capsules, rolls, packs and prices can be reckoned with."""

from collections.abc import Iterator
from typing import Final

from fieldapp.assess.standard_check.faults import (
    Caution,
    ClassRule,
    Fault,
    Refusal,
    StandardRule,
    metres,
    plain,
)
from fieldapp.assess.standard_check.shape_rules import supported_m
from schemas.standard import BoltType, Mesh, Standard, SupportClass

_RESIN: Final = ("hole_mm", "bar_mm", "capsule_mm", "capsule_length_m")


def _resin(support_class: SupportClass) -> Iterator[Fault]:
    for index, bolt in enumerate(support_class.bolts):
        path = f".bolts[{index}]"
        yield from _hole(bolt, path)
        if bolt.capsule_mm is None and bolt.capsule_length_m is None and bolt.resin_m is None:
            continue
        for field in _RESIN:
            if not getattr(bolt, field):
                reason = f"without it nobody can say how much resin a {bolt.code} takes"
                yield Refusal(f"{path}.{field}", reason)
        if bolt.resin_m is not None and bolt.resin_m > bolt.length_m:
            reason = f"more than the bolt's own {metres(bolt.length_m)}"
            yield Caution(f"{path}.resin_m", f"{metres(bolt.resin_m)} of resin is {reason}")


def _hole(bolt: BoltType, path: str) -> Iterator[Fault]:
    hole, bar, capsule = bolt.hole_mm, bolt.bar_mm, bolt.capsule_mm
    if hole is None:
        return
    if bar is not None and bar >= hole:
        yield Refusal(f"{path}.bar_mm", f"a bar of {plain(bar)} mm has no room in its hole")
    if capsule is not None and capsule > hole:
        yield Refusal(f"{path}.capsule_mm", f"capsules of {plain(capsule)} mm don't go in")


def _rolls_and_packs(support_class: SupportClass) -> Iterator[Fault]:
    mesh = support_class.mesh
    if mesh is None:
        return
    if (mesh.strips_per_pack is None) != (mesh.pack_length_m is None):
        missing = "strips_per_pack" if mesh.strips_per_pack is None else "pack_length_m"
        yield Refusal(f".mesh.{missing}", "a pack is so many strips and so many metres in all")
    yield from _pieces(mesh)
    line_m = supported_m(support_class)
    if mesh.roll_length_m is not None and line_m is not None and mesh.roll_length_m < line_m:
        reason = f"a roll of {metres(mesh.roll_length_m)} gives no strip for {metres(line_m)}"
        yield Caution(".mesh.roll_length_m", f"{reason} of rock in a row")


def _pieces(mesh: Mesh) -> Iterator[Fault]:
    if mesh.strips_per_pack is None or mesh.pack_length_m is None:
        return
    each_m = mesh.pack_length_m / mesh.strips_per_pack
    if each_m != mesh.across_m:
        reason = f"its strips are {metres(each_m)} long, and the class has {metres(mesh.across_m)}"
        yield Caution(".mesh.pack_length_m", reason)


def _prices(standard: Standard) -> Iterator[Fault]:
    if standard.prices is None:
        return
    codes = {bolt.code for known in standard.classes for bolt in known.bolts}
    priced = [it.bolt_type for it in standard.prices.bolts]
    for index, code in enumerate(priced):
        path = f"$.prices.bolts[{index}].bolt_type"
        if code not in codes:
            yield Refusal(path, f"no class has a bolt {code}")
        if code in priced[:index]:
            yield Refusal(path, f"{code} has two prices")
    for code in sorted(codes - set(priced)):
        reason = f"{code} has no price, so no round with it has a cost"
        yield Caution("$.prices.bolts", reason)


PRICE_RULES: Final[tuple[StandardRule, ...]] = (_prices,)
RULES: Final[tuple[ClassRule, ...]] = (_resin, _rolls_and_packs)
