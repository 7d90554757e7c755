"""What is walked in a month: which sections, the late ones first, and how much of each."""

import re
from calendar import monthrange
from dataclasses import dataclass
from datetime import date
from zoneinfo import ZoneInfo

from fieldapp.assess.walk import (
    Section,
    ToLookAt,
    section_number,
    to_look_at,
    zones_in_full,
)
from fieldapp.work.authority import counting
from fieldapp.work.headings import heading
from fieldapp.work.site import Timed
from fieldapp.work.walk.rows_there import rows_there
from fieldapp.work.walk.section_due import SectionDue, Walking, section_due, walking
from fieldapp.work.walk.section_history import Look, sections_known
from schemas.bodies.damage import DamageZone
from schemas.trouble import BadInput


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
    before_next_walk: tuple[str, ...] = ()
    """What may not last until the walk after, and why: such sections come before all others,
    whenever they are due."""
    too_little: bool = False
    """Whether less than must be left was surely read of some of it: first of all."""


@dataclass(frozen=True)
class WalkPlan:
    """What is due in one heading in one month."""

    heading_id: str
    month: str
    sections: tuple[PlannedSection, ...]
    """Due by the end of the month: first what may not last, then the late ones."""
    there: int
    """Sections of the heading's supported ground in all."""
    looked_at: tuple[ToLookAt, ...]
    """Bolts and bays that were drawn to be looked at, of all its supported ground."""


def plan_of_month(site: Timed, heading_id: str, month: str, *, draw: bool = True) -> WalkPlan:
    """Give what is due in a heading by the end of a month ("2031-05"), as is known by now.

    The same for the same entries on every tablet: what is drawn follows from the mine, the
    heading and the month. Without `draw` no bolts and bays are drawn: to know of which, every
    round of the heading is read.

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
    by = walking(site, place.id)
    known = sections_known(site, place.id)
    seed = seed_of(site, place.id, month)
    numbers = [section_number(it.section.from_m, by.rule.section_m) for it in known]
    in_full = zones_in_full(numbers, by.rule.full_zones_in_ten_sections, seed)
    planned = (
        _planned(section_due(site, by, it), by, in_full.get(number, ()), number)
        for it, number in zip(known, numbers, strict=True)
    )
    due = [it for it in planned if it.due_on <= last_day or it.before_next_walk]
    asked = ("to look at", seed, by.standard.name)
    drawn = counting(site).remembered(asked, lambda: _to_look_at(site, by, seed)) if draw else ()
    return WalkPlan(place.id, month, tuple(sorted(due, key=_urgency)), len(known), drawn)


def this_month(site: Timed) -> str:
    """Give the month that it is at the mine: "2031-05"."""
    return site.now().astimezone(ZoneInfo(site.settings.zone)).date().isoformat()[:7]


def seed_of(site: Timed, heading_id: str, month: str) -> str:
    """Give the text that a month's draws follow from."""
    return f"{site.mine.name}, {heading_id}, {month}"


def _to_look_at(site: Timed, by: Walking, seed: str) -> tuple[ToLookAt, ...]:
    rows = rows_there(site, by.support.place, by.support.installed, by.standard)
    return to_look_at(rows, by.rule.looked_at, seed)


def _planned(
    it: SectionDue, by: Walking, in_full: tuple[DamageZone, ...], number: int
) -> PlannedSection:
    return PlannedSection(
        section=it.known.section,
        due_on=it.due.on,
        late_days=it.due.late_days(by.as_at.date()),
        why=it.due.why,
        in_full=in_full,
        photo=number % by.rule.photo_every == 0,
        last=it.known.last,
        at_once=it.due.at_once,
        before_next_walk=it.before_next_walk,
        too_little=it.too_little,
    )


def _urgency(it: PlannedSection) -> tuple[object, ...]:
    """Put what has not lasted first, what may not next, then the latest, then what is at once."""
    rust = (not it.too_little, not it.before_next_walk)
    return (*rust, -it.late_days, not it.at_once, it.section.from_m)


def _last_day(month: str) -> date:
    if not re.fullmatch("[0-9]{4}-(0[1-9]|1[0-2])", month) or month.startswith("0000"):
        raise NoSuchMonth(month)
    year, number = map(int, month.split("-"))
    return date(year, number, monthrange(year, number)[1])
