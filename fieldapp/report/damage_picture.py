"""A stretch of the unrolled drive with the damage that is known there, as plain shapes."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Final

from assets.translate import _
from fieldapp.assess.demanded import profile_of
from fieldapp.assess.pattern import zone_of
from fieldapp.assess.seen import borders_of
from fieldapp.report.drive.picture import zone_bands
from fieldapp.report.shapes import (
    ChainageTick,
    Circle,
    Drawing,
    FaceLine,
    Span,
    Tag,
    ZoneBand,
)
from fieldapp.report.words.lengths import Units, tick_words
from fieldapp.work.damage.stating import DamageKnown
from schemas.bodies.damage import Damage, DamageZone
from schemas.standard import SupportClass

STEP_M: Final = 2
MARK_M: Final = 0.5
COLOURS: Final = {"no entry": "no_entry", "restricted": "rework", "open": "measures"}


def damage_picture(
    support_class: SupportClass,
    around: tuple[Decimal, int],
    face_m: Decimal,
    known: Sequence[DamageKnown],
    units: Units,
) -> Drawing:
    """Draw the drive around a chainage, so many metres in and out, as its class designs it."""
    profile = profile_of(support_class.profile, None)
    left, right = profile.floor_s_m
    middle_m, reach_m = min(around[0], face_m), around[1]
    from_m = max(0.0, float(middle_m) - reach_m)
    to_m = min(float(face_m) + 1, float(middle_m) + reach_m)
    zones = tuple(zone_bands(borders_of(support_class, profile), left, right))
    there = [it for it in known if from_m <= float(it.to_m) and float(it.from_m) <= to_m]
    face = float(face_m)
    return Drawing(
        x_from_m=min(from_m, to_m - 1),
        x_to_m=to_m,
        s_from_m=left,
        s_to_m=right,
        zones=zones,
        ticks=tuple(_ticks(from_m, to_m, units)),
        face=FaceLine(((face, left), (face, right))) if face <= to_m else None,
        circles=tuple(_mark(it, zones) for it in there),
        spans=tuple(span for it in there for span in stretch_on(it.newest, zones, _colour(it))),
        tags=tuple(_tag(it, zones) for it in there),
        units=units,
    )


def zone_at(support_class: SupportClass, s_m: float) -> DamageZone:
    """Give the zone of a place on the drive as its class designs it."""
    profile = profile_of(support_class.profile, None)
    zone: DamageZone = zone_of(s_m, borders_of(support_class, profile)).value
    return zone


def place_on(damage: Damage, zones: Sequence[ZoneBand]) -> tuple[float, float]:
    """Give where a damage is drawn: in the middle of its zone where nobody said more."""
    if damage.s_m is not None:
        return float(damage.chainage_m), float(damage.s_m)
    middle = ((it.s_from_m + it.s_to_m) / 2 for it in zones if it.name == damage.zone)
    return float(damage.chainage_m), next(middle, 0.0)


def middle_on(damage: Damage, zones: Sequence[ZoneBand]) -> tuple[float, float]:
    """Give the middle of a damage, however far it reaches along the drive."""
    x_m, s_m = place_on(damage, zones)
    return (x_m + float(damage.to_m or damage.chainage_m)) / 2, s_m


def stretch_on(damage: Damage, zones: Sequence[ZoneBand], colour: str) -> tuple[Span, ...]:
    """Give how far a damage reaches along the drive; nothing where it is at one place."""
    x_m, s_m = place_on(damage, zones)
    if damage.to_m is None or damage.to_m == damage.chainage_m:
        return ()
    return (Span(x_m, float(damage.to_m), s_m, colour),)


def _ticks(from_m: float, to_m: float, units: Units) -> Iterator[ChainageTick]:
    first = int(from_m // STEP_M + 1) * STEP_M
    for chainage_m in range(first, int(to_m) + 1, STEP_M):
        yield ChainageTick(chainage_m, tick_words(Decimal(chainage_m), units))


def _mark(known: DamageKnown, zones: Sequence[ZoneBand]) -> Circle:
    x_m, s_m = place_on(known.newest, zones)
    return Circle(x_m, s_m, MARK_M, _colour(known))


def _tag(known: DamageKnown, zones: Sequence[ZoneBand]) -> Tag:
    x_m, s_m = place_on(known.newest, zones)
    words = f"{known.ranked.code} {_(known.newest.kind)}"
    return Tag(words, x_m, s_m, _colour(known))


def _colour(known: DamageKnown) -> str:
    return "quiet" if known.outcome == "restored" else COLOURS[known.ranked.holds]
