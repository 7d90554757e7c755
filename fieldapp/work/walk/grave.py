"""What of a section is so grave that entry beneath it is held, by the standard.

It is judged as damage of that severity and depth would be: a walk must not know of something
that the entry state does not.
"""

from collections.abc import Iterator, Mapping
from decimal import Decimal

from fieldapp.assess.damage import Observation, priority
from schemas.bodies.damage import Damage, DamageExtent, DamageKind, DamageZone, ReadMillimetres
from schemas.bodies.walk import PartSeen, SectionSeen
from schemas.rehab_rules import Holds
from schemas.standard import Standard, SupportClass


def grave_zones(
    seen: SectionSeen,
    standard: Standard | None,
    demanded: SupportClass | None,
    exposure: str | None,
) -> Mapping[DamageZone, Holds]:
    """Give the zones of a section in which a part of the support holds entry."""
    found: dict[DamageZone, Holds] = {}
    for part, damage in _as_damage(seen, exposure):
        ranked = priority([Observation("seen", damage)], standard, demanded, seen.at)
        # What nobody judged is not the engineer's to decide from a walk: its limits count alone.
        judged = [ranked.holds] if part.severity is not None else []
        holds = [*judged, *(it.holds for it in ranked.beneath)]
        for it in holds:
            if it != "open" and found.get(part.zone) != "no entry":
                found[part.zone] = it
    return found


def _as_damage(seen: SectionSeen, exposure: str | None) -> Iterator[tuple[PartSeen, Damage]]:
    for part in seen.parts:
        bagged = part.part == "mesh" and bool(part.bag_depth_mm)
        if part.severity is not None or bagged:
            yield part, _damage(part, seen, exposure, bagged=bagged)


def _damage(part: PartSeen, seen: SectionSeen, exposure: str | None, *, bagged: bool) -> Damage:
    kind: DamageKind = "bagged mesh" if bagged else "other"
    depth = ReadMillimetres(value_mm=part.bag_depth_mm or Decimal(0), how="eye")
    return Damage(
        heading="",
        seen_at=seen.at,
        chainage_m=part.chainage_m or seen.from_m,
        zone=part.zone,
        kind=kind,
        severity=part.severity,
        exposure=exposure,
        extent=DamageExtent(bag_depth=depth) if bagged else DamageExtent(),
    )
