"""When each section is walked next, why, and what of it may not last until then."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from fieldapp.assess.standard_check.faults import plain
from fieldapp.assess.times import date_words
from fieldapp.assess.walk import Due, LookedAt, Section, Shaken, due, interval
from fieldapp.work.site import Timed
from fieldapp.work.standard_in_force import in_force
from fieldapp.work.walk.section_condition import SupportRecord, condition, support_record
from fieldapp.work.walk.section_corrosion import SectionCorrosion, section_corrosion
from fieldapp.work.walk.section_history import Look, SectionKnown
from fieldapp.work.walk.section_steel import Rusting, SteelKnown
from schemas.numbers import SAID_M, rounded, text
from schemas.standard import Standard
from schemas.trouble import NotAllowed
from schemas.walk_rules import WalkRule


@dataclass(eq=False)
class NoWalkRule(NotAllowed):
    """The standard in force says nothing of condition walks."""

    standard: str

    happened = "{standard} does not say how often supported ground is walked."
    kept = "Every walk that was recorded is kept."
    do_next = "The geotechnical engineer adopts a revision that says so under walk."


@dataclass(frozen=True)
class Walking:
    """By what the sections of one heading are due."""

    standard: Standard
    rule: WalkRule
    support: SupportRecord
    shaken: tuple[Shaken, ...]
    as_at: datetime
    """In the mine's own time."""


@dataclass(frozen=True)
class SectionDue:
    """A section, when it is walked next, and what is known of its rust."""

    known: SectionKnown
    due: Due
    next_walk_at: datetime
    """The next one; the one after where that is due by now."""
    corrosion: SectionCorrosion

    @property
    def before_next_walk(self) -> tuple[str, ...]:
        """What may not last until then, or has not lasted until now, in words."""
        return tuple(map(_may_fall, self.corrosion.before_next_walk))

    @property
    def too_little(self) -> bool:
        """Whether less than must be left was surely read of some of it."""
        return bool(self.corrosion.too_little)


def walking(site: Timed, heading_id: str, within: Section | None = None) -> Walking:
    """Give by what a heading's sections are due, or those in one stretch of it.

    Raises
    ------
    NoStandard
        None is in force.
    NoWalkRule
        The one in force says nothing of walks.
    """
    standard = in_force(site, site.now()).body
    if standard.walk is None:
        raise NoWalkRule(standard.name)
    as_at = site.now().astimezone(ZoneInfo(site.settings.zone))
    support = support_record(site, heading_id, within)
    return Walking(standard, standard.walk, support, tuple(_shaken(support, as_at)), as_at)


def section_due(site: Timed, by: Walking, known: SectionKnown) -> SectionDue:
    """Say when a section is walked next, and what of it may not last until then."""
    reached = [_looked_at(by.support, it) for it in known.looks if it.whole]
    how_often = interval(by.standard, by.rule, condition(site, known, by.support, by.standard))
    when = due(known.section, reached, by.shaken, how_often, by.as_at)
    if known.looks and not known.looks[0].whole:
        when = replace(when, why=f"{when.why}; {_not_whole(known.looks[0], by.as_at)}")
    next_at = by.as_at + timedelta(days=how_often.days)
    if when.on > by.as_at.date():
        next_at = datetime.combine(when.on, time(), by.as_at.tzinfo)
    rusting = Rusting(by.support, by.standard, by.as_at)
    corrosion = section_corrosion(site, rusting, known, next_at)
    if _waits_for_its_damage(by.support, known.section, corrosion):
        when = replace(when, on=min(when.on, by.as_at.date()), at_once=True)
    return SectionDue(known, when, next_at, corrosion)


def _waits_for_its_damage(
    support: SupportRecord, section: Section, corrosion: SectionCorrosion
) -> bool:
    """Whether steel was read too thin where nobody recorded damage: a walk was kept without."""
    recorded = {it.zone for it in support.damage_in(section)}
    return any(it.zone not in recorded for it in corrosion.too_little)


def _looked_at(support: SupportRecord, look: Look) -> LookedAt:
    """Give the ground that was looked at, as far as it was supported by then."""
    ground = look.ground
    ends_m = min(ground.to_m, support.ended_m(look.seen.at))
    return LookedAt(Section(ground.from_m, ends_m), look.seen.at)


def _shaken(support: SupportRecord, as_at: datetime) -> Iterator[Shaken]:
    """Yield the ground that each event of a heading reached, as it lies today.

    Ground that was supported later was not there yet. What a firing of its own face loosened is
    looked at with the next round, whose old rows are confirmed.
    """
    for it in (it for it in support.events if it.what != "fired"):
        at_m, reach_m = it.chainage_m, it.chainage_m + it.radius_m
        if it.stripped is not None:
            reach_m = it.stripped.to_m
        ends_m = min(reach_m, support.ended_m(it.at))
        where, when = text(rounded(at_m, SAID_M)), date_words(it.at.astimezone(as_at.tzinfo))
        words = f"{it.what} at {where} m on {when}"
        yield Shaken(Section(at_m - it.radius_m, ends_m), it.at, words)


def _not_whole(look: Look, as_at: datetime) -> str:
    on = date_words(look.seen.at.astimezone(as_at.tzinfo))
    if look.reached:
        return f"only begun on {on}: {'; '.join(look.seen.unanswered)}"
    words = f"not reached on {on}"
    return f"{words}: {look.seen.not_reached}" if look.seen.not_reached else words


def _may_fall(steel: SteelKnown) -> str:
    share, judged = plain(steel.left.share_at_least * 100), steel.judged
    if judged.read_leaves == "not sure":
        return f"may be below {share} % of its capacity already, read it again: {steel.name}"
    if judged.read_leaves == "too little" or (judged.lasts and judged.lasts.has_fallen):
        return f"is below {share} % of its capacity already: {steel.name}"
    return f"may be below {share} % of its capacity before the next walk: {steel.name}"
