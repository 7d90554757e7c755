"""What of a section is so grave, by the standard, that it is recorded as damage on the spot.

What holds entry is judged as damage of that severity and depth would be: a walk must not know of
something that the entry state does not. So with steel of which too little is surely left.
"""

from collections.abc import Iterable, Iterator, Mapping
from decimal import Decimal
from typing import NamedTuple

from fieldapp.assess.corrosion import Enough, enough_left
from fieldapp.assess.damage import Observation, priority
from schemas.bodies.damage import Damage, DamageExtent, DamageKind, DamageZone, ReadMillimetres
from schemas.bodies.walk import PartSeen, SectionSeen, SteelRead
from schemas.numbers import text
from schemas.rehab_rules import Holds
from schemas.standard import Standard, SupportClass


class Grave(NamedTuple):
    """A part that holds entry."""

    part: PartSeen
    kind: DamageKind | None
    """What damage it is; None where only the person who sees it can say so."""
    holds: Holds


def graves(
    seen: SectionSeen,
    standard: Standard | None,
    demanded: SupportClass | None,
    exposure: str | None,
) -> tuple[Grave, ...]:
    """Give the parts of a section that hold entry, the gravest first."""
    steps = [it.code for it in standard.severities] if standard else []

    def how_grave(grave: Grave) -> tuple[bool, int]:
        code = grave.part.severity
        return grave.holds == "no entry", steps.index(code) if code in steps else -1

    found = _grave(seen, standard, demanded, exposure)
    return tuple(sorted(found, key=how_grave, reverse=True))


def places_apart(found: Iterable[Grave], zone: DamageZone) -> int:
    """Count the places of a zone that hold entry: each is damage of its own.

    What is said of all of a section is no place, but is somewhere in it.
    """
    places = {it.part.chainage_m for it in found if it.part.zone == zone}
    return max(len(places - {None}), min(len(places), 1))


def holds_as_much(holds: Holds, grave: Grave) -> bool:
    """Tell whether people are kept away as far as what is grave demands."""
    return holds in ("no entry", grave.holds)


def thin_zones(seen: SectionSeen, standard: Standard | None) -> Mapping[DamageZone, SteelRead]:
    """Give the zones in which a reading surely leaves less than must be left, and the reading."""
    thin = (it for it in seen.steel if leaves(it, standard) == "too little")
    return {it.zone: it for it in reversed(list(thin))}


def leaves(read: SteelRead, standard: Standard | None) -> Enough | None:
    """Tell whether a reading leaves enough; None where the standard does not say what must be."""
    known = standard.corrosion.left if standard else ()
    least = next((it.share_at_least for it in known if it.of == read.steel), None)
    if least is None:
        return None
    return enough_left(read.steel, read.original_mm, read.read_mm, read.u_mm, least)


def thin_words(read: SteelRead) -> str:
    """Say what was read: "bar of 20 mm read 1.8 mm, less than must be left"."""
    size = f"{read.steel} of {text(read.original_mm)} mm"
    return f"{size} read {text(read.read_mm)} mm, less than must be left"


def _grave(
    seen: SectionSeen,
    standard: Standard | None,
    demanded: SupportClass | None,
    exposure: str | None,
) -> Iterator[Grave]:
    for part, damage in _as_damage(seen, exposure):
        ranked = priority([Observation("seen", damage)], standard, demanded, seen.at)
        # What nobody judged is not the engineer's to decide from a walk: its limits count alone.
        judged = [ranked.holds] if part.severity is not None else []
        limits = [it.holds for it in ranked.beneath if it.holds != "open"]
        held = [it for it in (*judged, *limits) if it != "open"]
        if held:
            kind = damage.kind if limits else None
            yield Grave(part, kind, "no entry" if "no entry" in held else "restricted")


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
