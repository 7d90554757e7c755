"""Rust of a section: its grades with water and age, what is left of steel, how long it is enough.

Of the visible part only.
"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from typing import Final
from zoneinfo import ZoneInfo

from fieldapp.assess.statistics.trend import years_between
from fieldapp.assess.walk import Section, said_last
from fieldapp.work.site import Timed
from fieldapp.work.walk.section_condition import parts_stated
from fieldapp.work.walk.section_history import SectionKnown
from fieldapp.work.walk.section_steel import Rusting, SteelKnown, steel_of
from schemas.bodies.damage import DamageZone
from schemas.bodies.walk import SupportPart, Water
from schemas.numbers import rounded

_STEP_YEARS: Final = Decimal("0.1")


@dataclass(frozen=True)
class GradeKnown:
    """The grade of rust that a part of one zone had last, with water and age."""

    part: SupportPart
    zone: DamageZone
    grade: int
    """The worst of its places."""
    seen_on: date
    water: Water | None
    """As it was said last of the zone; None: nobody said."""
    age_years: Decimal | None
    """Of the support on that day; None: nobody knows when it was put up."""
    before_put_up: bool
    """Whether that day was before it was put up: a clock was wrong, or it was other support."""


@dataclass(frozen=True)
class SectionCorrosion:
    """What is known of rust in one section."""

    grades: tuple[GradeKnown, ...]
    """The worst first."""
    steel: tuple[SteelKnown, ...]
    """From the origin inbye."""

    @property
    def before_next_walk(self) -> tuple[SteelKnown, ...]:
        """Those that may be left with less than they must before they are looked at again."""
        return tuple(it for it in self.steel if it.may_not_last)

    @property
    def too_little(self) -> tuple[SteelKnown, ...]:
        """Those of which a reading surely leaves less than must be left."""
        return tuple(it for it in self.steel if it.judged.read_leaves == "too little")


def section_corrosion(
    site: Timed, by: Rusting, known: SectionKnown, next_walk_at: datetime | None = None
) -> SectionCorrosion:
    """Give what is known of rust in a section; what may not last until its next walk."""
    zone = ZoneInfo(site.settings.zone)
    grades = sorted(_grades(by, known, zone), key=lambda it: (-it.grade, it.zone, it.part))
    return SectionCorrosion(tuple(grades), steel_of(by, known, next_walk_at))


def _grades(by: Rusting, known: SectionKnown, zone: ZoneInfo) -> Iterator[GradeKnown]:
    stated = parts_stated(known, by.support.restored, zone)
    of_part = defaultdict(list)
    for it in said_last([it for it in stated if it.seen.corrosion_grade is not None]):
        of_part[it.seen.part, it.seen.zone].append(it)
    for (part, where), said in of_part.items():
        worst = max(said, key=lambda it: (it.seen.corrosion_grade or 0, it.on))
        place = worst.place_m
        ground = known.section if place is None else Section(place, place)
        put_up_at = by.support.put_up_at(ground, where)
        then = datetime.combine(worst.on, time(12), zone)
        before = put_up_at is not None and worst.on < put_up_at.astimezone(zone).date()
        yield GradeKnown(
            part=part,
            zone=where,
            grade=worst.seen.corrosion_grade or 0,
            seen_on=worst.on,
            water=_water(known, where),
            age_years=None if put_up_at is None or before else _years(put_up_at, then),
            before_put_up=before,
        )


def _water(known: SectionKnown, zone: DamageZone) -> Water | None:
    said = (it for look in known.looks for it in look.seen.zones if it.zone == zone)
    return next((it.water for it in said if it.water is not None), None)


def _years(put_up_at: datetime, then: datetime) -> Decimal:
    return max(Decimal(0), rounded(years_between(put_up_at, then), _STEP_YEARS))
