"""What is known of a section when its next walk is worked out: its class, air, rust, damage."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from itertools import pairwise
from zoneinfo import ZoneInfo

from fieldapp.assess.walk import (
    Condition,
    PartStated,
    Section,
    gravest,
    last_severities,
    worst_grade,
)
from fieldapp.work.damage_record import left
from fieldapp.work.gathering import HeadingRecord
from fieldapp.work.heading_record import heading_record
from fieldapp.work.site import Timed
from fieldapp.work.walk.section_history import Look, SectionKnown
from fieldapp.work.walk.supported_ground import Installed, Restored, installed, restored
from schemas.bodies.damage import Damage, DamageZone
from schemas.bodies.event import Event
from schemas.bodies.heading import Heading
from schemas.bodies.walk import PartSeen
from schemas.standard import Standard


@dataclass(frozen=True)
class SupportRecord:
    """What the ledger says of a heading's support, once for all of its sections."""

    place: Heading
    installed: tuple[Installed, ...]
    restored: tuple[Restored, ...]
    damages: tuple[tuple[Section, Damage], ...]
    """What no verified repair has restored, and where it lies today."""
    events: tuple[Event, ...]

    def put_up_in(self, section: Section) -> tuple[Installed, ...]:
        """Give the support that was put up in a section, each stretch by its own class."""
        stretches = (it for one in self.installed for it in one.by_class)
        return tuple(it for it in stretches if _touches(section, it.ground))

    def damage_in(self, section: Section) -> tuple[Damage, ...]:
        """Give the damage in a section that no verified repair has restored."""
        return tuple(it for ground, it in self.damages if _touches(section, ground))

    def ended_m(self, at: datetime) -> Decimal:
        """Give where supported ground ended at a time."""
        there = (it.ground.to_m for it in self.installed if it.at is None or it.at <= at)
        return max(there, default=Decimal(0))

    def put_up_at(self, ground: Section, zone: DamageZone) -> datetime | None:
        """Give when the oldest support of a stretch was put up; None where nobody knows.

        Of support over support, the newer counts; so does what a verified repair renewed.
        """
        grounds = [*(it.ground for it in self.installed), *(it.ground for it in self.restored)]
        ends = {end for it in grounds for end in (it.from_m, it.to_m)}
        within = sorted(it for it in ends if ground.from_m < it < ground.to_m)
        borders = [ground.from_m, *within, ground.to_m]
        pieces = pairwise(borders) if ground.from_m < ground.to_m else [borders]
        newest = [self._newest_at(Section(*it), zone) for it in pieces]
        known = [it for it in newest if it is not None]
        return min(known) if len(known) == len(newest) else None

    def _newest_at(self, piece: Section, zone: DamageZone) -> datetime | None:
        renewed = (it.at for it in self.restored if it.covers(zone, piece))
        put_up = (it.at for it in self.installed if _is_within(piece, it.ground))
        times = [it for it in (*renewed, *put_up) if it is not None]
        return max(times, default=None)


def support_record(site: Timed, heading_id: str, within: Section | None = None) -> SupportRecord:
    """Gather what is on record of a heading's support, or of that in one stretch."""
    record = heading_record(site, heading_id)
    return SupportRecord(
        record.place,
        installed(site, heading_id, within),
        restored(site, heading_id),
        tuple(_damages(record)),
        tuple(it.event for it in record.events),
    )


def condition(
    site: Timed, known: SectionKnown, support: SupportRecord, standard: Standard
) -> Condition:
    """Give what is known of a section. What nobody has said is None."""
    zone = ZoneInfo(site.settings.zone)
    stated = tuple(parts_stated(known, support.restored, zone))
    damages = (it.severity for it in support.damage_in(known.section))
    card = [it.code for it in standard.severities]
    classes = {it.support_class for it in support.put_up_in(known.section)}
    return Condition(
        support_classes=frozenset(classes or {support.place.support_class}),
        corrosivity=support.place.corrosivity,
        exposure=support.place.exposure,
        corrosion=worst_grade(stated),
        severity=gravest([*last_severities(stated), *damages], card),
    )


def parts_stated(
    known: SectionKnown, renewed: Sequence[Restored], zone: ZoneInfo
) -> Iterator[PartStated]:
    """Yield what was said of the parts of a section that is not of support renewed since."""
    for look in known.looks:
        for seen in look.seen.parts:
            ground = ground_of(look, seen, known.section)
            replaced = ground and is_replaced(look.seen.at, seen.zone, ground, renewed)
            if ground is not None and not replaced:
                on = look.seen.at.astimezone(zone).date()
                yield PartStated(on, seen, None if seen.chainage_m is None else ground.from_m)


def ground_of(look: Look, seen: PartSeen, section: Section) -> Section | None:
    """Give where in a section a part stands, today; None where that is in another one.

    What was said of all of the ground that was looked at is said of the section.
    """
    if seen.chainage_m is None:
        return section
    at_m = look.chaining.today_m(seen.chainage_m)
    return Section(at_m, at_m) if section.from_m <= at_m <= section.to_m else None


def is_replaced(
    seen_at: datetime, zone: DamageZone, ground: Section, renewed: Iterable[Restored]
) -> bool:
    """Whether the support of a place was renewed after something was seen of it."""
    later = (it for it in renewed if it.at > seen_at)
    return any(it.covers(zone, ground) for it in later)


def _damages(record: HeadingRecord) -> Iterator[tuple[Section, Damage]]:
    for known in record.damages:
        for it in left(known, record.rehabs).seen:
            at_m, to_m = it.damage.chainage_m, it.damage.to_m
            yield Section(at_m, at_m if to_m is None else to_m), it.damage


def _touches(section: Section, ground: Section) -> bool:
    """Whether some of a section lies in a stretch, which may be one place on its border."""
    if ground.from_m < ground.to_m:
        return section.overlaps(ground.from_m, ground.to_m)
    return section.from_m <= ground.from_m <= section.to_m


def _is_within(piece: Section, ground: Section) -> bool:
    """Whether ground holds a stretch, or one place; a row at a joint belongs outbye of it."""
    if piece.from_m < piece.to_m:
        return ground.from_m <= piece.from_m and piece.to_m <= ground.to_m
    return ground.from_m < piece.from_m <= ground.to_m or piece.from_m == ground.from_m == 0
