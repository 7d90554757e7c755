"""What is due on a walk and what is known of a section, in words: on every screen and list."""

from collections.abc import Iterable, Iterator
from datetime import datetime, time, tzinfo
from zoneinfo import ZoneInfo

from assets.translate import _
from fieldapp.assess.corrosion import SteelJudged
from fieldapp.assess.entry.state import EntryState
from fieldapp.assess.walk import Section, ToLookAt
from fieldapp.report.words.entry import entry_said
from fieldapp.report.words.findings import day, sentence
from fieldapp.report.words.lengths import Units, chainage_words, in_units, span_words
from fieldapp.report.words.walk import seen_lines
from fieldapp.work.both_standards import PlaceJudged
from fieldapp.work.walk.movement import movements
from fieldapp.work.walk.plan import PlannedSection, WalkPlan
from fieldapp.work.walk.rate_words import BESIDE
from fieldapp.work.walk.section_corrosion import GradeKnown, SectionCorrosion
from fieldapp.work.walk.section_history import Look, SectionKnown
from schemas.bodies.round import named
from schemas.settings import Settings

MANY = 2
"""Fewer have no order."""
MOST_BREACHES = 3
"""So many things that a standard finds are named in a line."""


def span_of(section: Section, units: Units) -> str:
    """Say where a section is: "570.0 – 580.0 m"."""
    return span_words(section.from_m, section.to_m, units, " – ")


def plan_words(plan: WalkPlan) -> str:
    """Say how much is due: "12 of 62 sections, 3 late"."""
    late = sum(it.late_days > 0 for it in plan.sections)
    due = _("{n} of {m} sections").format(n=len(plan.sections), m=plan.there)
    return f"{due}, {_('{n} late').format(n=late)}" if late else due


def order_words(plan: WalkPlan) -> str:
    """Say in which order sections stand of which none is more urgent; nothing where one is."""
    urgent = {(it.before_next_walk, it.late_days, it.at_once) for it in plan.sections}
    if len(plan.sections) < MANY or len(urgent) > 1:
        return ""
    return _("none is more urgent than another: from the portal inbye")


def due_words(planned: PlannedSection, zone: tzinfo) -> str:
    """Say when a section is due: "at once", "12 days late", "due 5 Jun 2031"."""
    if planned.late_days:
        late = "1 day late" if planned.late_days == 1 else f"{planned.late_days} days late"
        return f"{_('at once')}, {_(late)}" if planned.at_once else _(late)
    if planned.at_once:
        return _("at once")
    return _("due {day}").format(day=day(datetime.combine(planned.due_on, time(12), zone), zone))


def closed_words(sections: Iterable[Section], entry: EntryState, units: Units) -> str:
    """Say that some sections reach beyond the entry line, and why; nothing where none does."""
    if not any(it.to_m > entry.line_m for it in sections):
        return ""
    said = entry_said(entry, units)
    told = _("Nobody beyond {at}: {why}")
    return sentence(told.format(at=said.at, why=_(said.why or said.beyond)))


def why_words(planned: PlannedSection, units: Units) -> str:
    """Say why it is due, what may not last coming first, then what was read in two ways."""
    apart = (it.words for it in planned.last.apart) if planned.last else ()
    return in_units("; ".join((*planned.before_next_walk, *apart, planned.why)), units)


def much_words(planned: PlannedSection) -> str:
    """Say how much of a section is answered: "back in full; photo"."""
    zones = ", ".join(map(_, planned.in_full))
    in_full = _("{zones} in full").format(zones=zones) if zones else ""
    return "; ".join(filter(None, (in_full, _("photo") if planned.photo else "")))


def sample_lines(sample: ToLookAt, units: Units) -> Iterator[str]:
    """Yield what is looked at in one stratum: how many, what it means, and which."""
    yield sentence(f"{sample.stratum}: {sample.words}")
    for it in sample.spots:
        yield f"{chainage_words(it.chainage_m, units)}: {it.words}"


def grade_words(grade: GradeKnown, zone: tzinfo) -> str:
    """Say a grade of rust: "bolts, back: rust 3, dripping, 12.4 years old, 6 May 2031"."""
    if grade.before_put_up:
        age = _("seen before the support was put up")
    elif grade.age_years is None:
        age = _("age not known")
    else:
        age = _("{years} years old").format(years=grade.age_years)
    seen = day(datetime.combine(grade.seen_on, time(12), zone), zone)
    water = _(grade.water) if grade.water else _("water not told")
    rust = _("rust {n}").format(n=grade.grade)
    return f"{_(grade.part)}, {_(grade.zone)}: {', '.join((rust, water, age, seen))}"


def corrosion_lines(found: SectionCorrosion, units: Units, zone: tzinfo) -> Iterator[str]:
    """Yield what is known of rust in a section: grades, then steel, of the visible part only."""
    yield from (grade_words(it, zone) for it in found.grades)
    for steel in found.steel:
        yield in_units(steel.words, units)
        yield from (f"  {it}" for it in steel.how_fast)
        yield from (f"  {it}" for it in _refused(steel.judged))
    if any(it.how_fast for it in found.steel):
        yield sentence(BESIDE)


def movement_lines(known: SectionKnown, units: Units, zone: tzinfo) -> Iterator[str]:
    """Yield how far and how fast rock moved at each station that was read twice or more."""
    found = movements(known.looks, known.section, zone)
    return (in_units(it.words, units) for it in found)


def look_lines(look: Look, who: str, settings: Settings) -> Iterator[str]:
    """Yield one look: when, who, and what was seen, as it was read and where that is today."""
    units, zone = settings.units, ZoneInfo(settings.zone)
    seen = look.seen
    answer, *lines = seen_lines(seen, units, zone)
    twice = f" ({_('two looks on one day')})" if look.two_on_this_day else ""
    yield f"{day(seen.at, zone)}, {who}: {answer}{twice}"
    if (look.ground.from_m, look.ground.to_m) != (seen.from_m, seen.to_m):
        read = span_of(Section(seen.from_m, seen.to_m), units)
        today = span_of(look.ground, units)
        yield f"  {_('read as {read}, today {today}').format(read=read, today=today)}"
    yield from (f"  {it}" for it in lines)
    yield from (f"  {in_units(sentence(it.words), units)}" for it in look.apart)


def judged_lines(place: PlaceJudged, units: Units) -> Iterator[str]:
    """Yield what both standards say of a stretch of support."""
    where = span_of(place.ground, units)
    if place.round_number is None:
        yield f"{where}: {_('not known, supported before the record began')}"
        return
    yield f"{where}: {_(named(place.round_number, over_old=place.over_old))}"
    for label, by in ((_("when it was put up"), place.then), (_("in force now"), place.now)):
        said = _("not known") if by is None else by.words
        yield f"  {label}: {said}"
        for breach in by.breaches[:MOST_BREACHES] if by else ():
            yield f"    {breach}"
    if place.falls_short_now:
        yield f"  {_('It met the standard of its day and falls short of the one in force now.')}"


def _refused(judged: SteelJudged) -> Iterator[str]:
    return (str(it) for it in judged.refused)
