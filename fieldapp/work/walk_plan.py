"""What is walked in a month: which sections, the late ones first, and how much of each."""

import re
from calendar import monthrange
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from fieldapp.assess.times import date_words
from fieldapp.assess.walk import (
    Due,
    LookedAt,
    Section,
    Shaken,
    ToLookAt,
    due,
    interval,
    section_number,
    to_look_at,
    today_m,
    zones_in_full,
)
from fieldapp.work.headings import heading
from fieldapp.work.rows_there import rows_there
from fieldapp.work.section_condition import SupportRecord, condition, support_record
from fieldapp.work.section_history import Look, SectionKnown, sections_known
from fieldapp.work.site import Site
from fieldapp.work.standard_in_force import in_force
from schemas.bodies.damage import DamageZone
from schemas.numbers import SAID_M, rounded, text
from schemas.standard import Standard
from schemas.trouble import BadInput, NotAllowed
from schemas.walk_rules import WalkRule


@dataclass(eq=False)
class NoWalkRule(NotAllowed):
    """The standard in force says nothing of condition walks."""

    standard: str

    happened = "{standard} does not say how often supported ground is walked."
    kept = "Every walk that was recorded is kept."
    do_next = "The geotechnical engineer adopts a revision that says so under walk."


@dataclass(eq=False)
class NoSuchMonth(BadInput):
    """A month is named as no month is."""

    month: str

    happened = "{month} is no month."
    kept = "Nothing was changed."
    do_next = "Name it by year and month, such as 2031-05."


@dataclass(frozen=True)
class PlannedSection:
    """A section that is due in the month, and how much of it is answered."""

    section: Section
    due_on: date
    late_days: int
    """0 where it is not late yet."""
    why: str
    in_full: tuple[DamageZone, ...]
    """Zones that were drawn to be answered in full."""
    photo: bool
    """Whether a photo is taken again from the same place."""
    last: Look | None
    """The newest look that reached some of it."""
    at_once: bool = False
    """Whether it waits for no interval."""


@dataclass(frozen=True)
class WalkPlan:
    """What is due in one heading in one month."""

    heading_id: str
    month: str
    sections: tuple[PlannedSection, ...]
    """Due by the end of the month, in the order in which they matter: the late ones first."""
    there: int
    """Sections of the heading's supported ground in all."""
    looked_at: tuple[ToLookAt, ...]
    """Bolts and bays that were drawn to be looked at, of all its supported ground."""


@dataclass(frozen=True)
class _Rule:
    """By what a plan is made."""

    standard: Standard
    walk: WalkRule


def plan_of_month(site: Site, heading_id: str, month: str) -> WalkPlan:
    """Give what is due in a heading by the end of a month ("2031-05"), as is known by now.

    The same for the same entries on every tablet: what is drawn follows from the mine, the
    heading and the month.

    Raises
    ------
    NoSuchMonth
        That is no month.
    NoSuchHeading
        No heading has that id or name.
    NoStandard
        None is in force.
    NoWalkRule
        The one in force says nothing of walks.
    """
    last_day = _last_day(month)
    place = heading(site, heading_id)
    rule = _rule(site)
    support = support_record(site, place.id)
    known = sections_known(site, place.id)
    numbers = {it.section: _number(it.section, rule) for it in known}
    in_ten = rule.walk.full_zones_in_ten_sections
    seed = seed_of(site, place.id, month)
    in_full = zones_in_full(numbers.values(), in_ten, seed)
    as_at = site.now().astimezone(ZoneInfo(site.settings.zone))
    planned = (
        PlannedSection(
            section=one.section,
            due_on=when.on,
            late_days=when.late_days(as_at.date()),
            why=when.why,
            in_full=in_full.get(numbers[one.section], ()),
            photo=numbers[one.section] % rule.walk.photo_every == 0,
            last=one.last,
            at_once=when.at_once,
        )
        for one, when in _dues(site, known, support, rule)
        if when.on <= last_day
    )
    in_order = sorted(planned, key=lambda it: (-it.late_days, not it.at_once, it.section.from_m))
    rows = rows_there(site, support.place, support.installed, rule.standard)
    looked_at = to_look_at(rows, rule.walk.looked_at, seed)
    return WalkPlan(place.id, month, tuple(in_order), len(known), looked_at)


def seed_of(site: Site, heading_id: str, month: str) -> str:
    """Give the text that a month's draws follow from."""
    return f"{site.mine.name}, {heading_id}, {month}"


def _rule(site: Site) -> _Rule:
    standard = in_force(site, site.now()).body
    if standard.walk is None:
        raise NoWalkRule(standard.name)
    return _Rule(standard, standard.walk)


def _dues(
    site: Site, known: Sequence[SectionKnown], support: SupportRecord, rule: _Rule
) -> Iterator[tuple[SectionKnown, Due]]:
    as_at = site.now().astimezone(ZoneInfo(site.settings.zone))
    shaken = tuple(_shaken(support, as_at))
    for one in known:
        reached = [LookedAt(it.ground, it.seen.at) for it in one.looks if it.reached]
        found = condition(site, one, support, rule.standard)
        how_often = interval(rule.standard, rule.walk, found)
        yield one, due(one.section, reached, shaken, how_often, as_at)


def _shaken(support: SupportRecord, as_at: datetime) -> Iterator[Shaken]:
    """Yield the ground that each event of a heading reached, as it lies today."""
    for it in support.events:
        at_m = today_m(it.chainage_m, it.at, support.place.rechained)
        ground = Section(at_m - it.radius_m, at_m + it.radius_m)
        where, when = text(rounded(at_m, SAID_M)), date_words(it.at.astimezone(as_at.tzinfo))
        yield Shaken(ground, it.at, f"{it.what} at {where} m on {when}")


def _number(section: Section, rule: _Rule) -> int:
    return section_number(section.from_m, rule.walk.section_m)


def _last_day(month: str) -> date:
    if not re.fullmatch("[0-9]{4}-(0[1-9]|1[0-2])", month) or month.startswith("0000"):
        raise NoSuchMonth(month)
    year, number = map(int, month.split("-"))
    return date(year, number, monthrange(year, number)[1])
