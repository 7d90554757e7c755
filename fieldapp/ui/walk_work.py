"""What the Condition walk asks its worker for, and the words it writes; no widgets here."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Literal
from zoneinfo import ZoneInfo

from fieldapp.assess.walk import Section
from fieldapp.report.damage_picture import zone_at
from fieldapp.report.shapes import Drawing
from fieldapp.report.walk_picture import numbered, section_picture, with_marks
from fieldapp.report.words.findings import day
from fieldapp.report.words.lengths import Units
from fieldapp.report.words.section import (
    closed_words,
    corrosion_lines,
    due_words,
    movement_lines,
    much_words,
    span_of,
    why_words,
)
from fieldapp.report.words.walk import seen_lines
from fieldapp.ui.names import short
from fieldapp.ui.translate import _, counted
from fieldapp.work.asked import Asked
from fieldapp.work.damage.stating import damages
from fieldapp.work.damage_record import judge
from fieldapp.work.entry import entry
from fieldapp.work.heading_record import heading_record
from fieldapp.work.headings import heading
from fieldapp.work.people import name_of
from fieldapp.work.site import Session, Site
from fieldapp.work.walk.draft import (
    WalkWork,
    begin_walk,
    keep_walk_touch,
    open_walk,
    touch_of,
)
from fieldapp.work.walk.end import Begun, begun_only, walked
from fieldapp.work.walk.now import WalkNow, walk_now
from fieldapp.work.walk.plan import PlannedSection, WalkPlan, plan_of_month, this_month
from fieldapp.work.walk.section_due import section_due, walking
from fieldapp.work.walk.section_history import Look, section_known
from fieldapp.work.walk.section_work import Place
from fieldapp.work.walk.walks import on_the_same_day
from schemas.numbers import text
from schemas.standard import SupportClass

LETTERS = 110
"""What a row of the plan holds of reasons, in portrait."""


@dataclass(frozen=True)
class SeenWords:
    """What was seen of a section at one time: when, and line by line."""

    title: str
    lines: tuple[str, ...] = ()

    @property
    def fitting(self) -> list[str]:
        """Ways to say it, the longest first; a shorter one says how much it leaves out."""
        count = len(self.lines)
        less = (
            (*self.lines[:n], _("and {n} more").format(n=count - n))
            for n in range(count - 1, 0, -1)
        )
        return ["; ".join(it) for it in (self.lines, *less)]


PlanMark = Literal["late", "due", "answered"]


@dataclass(frozen=True)
class PlanLine:
    """One section of the plan in words; late ones bear a mark, answered ones none."""

    place: Place
    title: str
    detail: str
    mark: PlanMark


@dataclass(frozen=True)
class EndTold:
    """What ending a walk comes to, in words, and what was only begun."""

    words: tuple[str, ...]
    """Empty where no section has an answer."""
    begun: tuple[Begun, ...]


@dataclass(frozen=True)
class WalkPage:
    """Everything that the Condition walk shows of one heading."""

    heading_id: str
    name: str
    plan: WalkPlan
    now: WalkNow | None
    """None before the walk is begun."""
    where: str = ""
    last: SeenWords = SeenWords("")
    this: SeenWords = SeenWords("")
    drawing: Drawing | None = None
    support_class: SupportClass | None = None
    closed: str = ""
    """That nobody goes to the section at hand, and why; nothing where people may."""
    plan_closed: str = ""
    """The same of any section of the plan."""

    @property
    def work(self) -> WalkWork | None:
        """The walk; None before it is begun."""
        return self.now.work if self.now else None

    @property
    def question(self) -> Asked | None:
        """What is asked now; None where nothing is left."""
        return self.now.asked if self.now else None

    @property
    def progress(self) -> str:
        """How much of the plan is done: "12 answered, 48 left"."""
        now, told = self.now, _("{done} answered, {left} left")
        if now is None:
            return told.format(done=0, left=len(self.plan.sections))
        return told.format(done=now.answered, left=now.left)

    @property
    def on_the_drive(self) -> tuple[tuple[str, str], ...]:
        """What the numbers on the drawing stand for, where words find no room."""
        tags = self.drawing.tags if self.drawing else ()
        return tuple((it.number, it.text) for it in tags)

    def is_answered(self, place: Place) -> bool:
        """Tell whether a section was answered whole on this walk."""
        return self.now is not None and place in self.now.done

    def answer_of(self, place: Place, units: Units) -> str:
        """Give what was answered of a section on this walk: "answered: nothing new"."""
        seen = self.work.section(place).seen if self.work else None
        told = seen_lines(seen, units)[:1] if seen else ()
        return _("answered: {what}").format(what="".join(told))

    def touched(self, x_m: Decimal, s_m: Decimal) -> dict[str, Any] | None:
        """Give what a touch on the drive says: where the thing is, or that another is there."""
        zone = zone_at(self.support_class, float(s_m)) if self.support_class else None
        now = self.now
        if zone is None or now is None or now.at is None or now.asked is None:
            return None
        section = now.at.section
        at_m = min(max(x_m, section.from_m), section.to_m)
        place = {"chainage_m": text(at_m), "s_m": text(s_m), "zone": zone}
        if now.asked.key in ("answer", "done"):
            return {"thing": place}
        return {"more": place} if now.asked.key in ("zone", "chainage_m") else None


def opened_walk(site: Site, heading_id: str) -> WalkPage:
    """Show the walk that was begun in a heading, or the plan of its month."""
    place = heading(site, heading_id)
    work = open_walk(site, place.id)
    month = work.about.month if work else this_month(site)
    plan = plan_of_month(site, place.id, month)
    if work is None:
        name, closed = short(place.body.name), _closed_in(site, plan)
        return WalkPage(place.id, name, plan, None, plan_closed=closed)
    return walk_page(site, work, plan)


def begun_walk(
    site: Site, plan: WalkPlan, place: Place | None, session: Session | None
) -> WalkPage:
    """Begin the walk of a heading, at one section where a person chose it."""
    work = begin_walk(site, plan.heading_id, session)
    if place is not None:
        work = keep_walk_touch(site, work, touch_of(site, session, place))
    return walk_page(site, work, plan)


def walk_page(site: Site, work: WalkWork, plan: WalkPlan) -> WalkPage:
    """Show the section at hand: last time beside this time, and what is asked next."""
    place = heading(site, work.about.heading_id)
    now = walk_now(site, work, plan)
    name, units = short(place.body.name), site.settings.units
    plan_closed = _closed_in(site, plan)
    if now.at is None:
        return WalkPage(place.id, name, plan, now, plan_closed=plan_closed)
    section = now.at.section
    demanded = judge(site, place.body.support_class, site.now()).demanded
    return WalkPage(
        heading_id=place.id,
        name=name,
        plan=plan,
        now=now,
        where=span_of(section, units),
        last=_last(site, now.at.last),
        this=_this(site, now),
        drawing=_drawing(site, now, demanded) if demanded else None,
        support_class=demanded,
        closed=closed_words((section,), entry(site, place.id, site.now()), units),
        plan_closed=plan_closed,
    )


def plan_lines(site: Site, page: WalkPage) -> tuple[PlanLine, ...]:
    """Give the plan of a month as it stands, late sections first, then along the drive."""
    return tuple(_line(site, page, it) for it in page.plan.sections)


def known_lines(site: Site, page: WalkPage) -> tuple[str, ...]:
    """Give every line of what was seen last time, and what is known of the rust of the section."""
    if page.now is None or page.now.at is None:
        return page.last.lines
    settings, section = site.settings, page.now.at.section
    known = section_known(site, page.heading_id, section.from_m)
    if known is None:
        return page.last.lines
    due = section_due(site, walking(site, page.heading_id, known.section), known)
    zone = ZoneInfo(settings.zone)
    moved = movement_lines(known, settings.units, zone)
    rust = corrosion_lines(due.corrosion, settings.units, zone)
    why = why_words(page.now.at, settings.units)
    return (*page.last.lines, *moved, *(line.strip() for line in rust), *filter(None, (why,)))


def end_told(site: Site, page: WalkPage, by: str | None) -> EndTold:
    """Say what ending the walk comes to, and which sections were only begun."""
    begun = begun_only(site, page.work, page.plan) if page.work else ()
    return EndTold(tuple(_end_words(site, page, by)), begun)


def _end_words(site: Site, page: WalkPage, by: str | None) -> Iterator[str]:
    walk = walked(site, page.work, page.plan) if page.work else None
    if walk is None:
        return
    whole = sum(not it.unanswered for it in walk.sections)
    yield counted("{} section is answered", "{} sections are answered", whole)
    yield from _begun_words(site, begun_only(site, page.work, page.plan) if page.work else ())
    yield _("What is left stays due, for tomorrow or another tablet.")
    for other in on_the_same_day(site, walk, by):
        told = _("{who} looked at {n} of these sections today too: both are kept.")
        yield told.format(who=name_of(site, other.author), n=other.sections)


def _closed_in(site: Site, plan: WalkPlan) -> str:
    sections = (it.section for it in plan.sections)
    state = entry(site, plan.heading_id, site.now())
    return closed_words(sections, state, site.settings.units)


def _begun_words(site: Site, begun: Sequence[Begun]) -> Iterator[str]:
    """Name what was only begun: the first of it with what it lacks, the others by their number."""
    for first in begun[:1]:
        where = span_of(Section(*first.place), site.settings.units)
        told = _("{where} is not answered whole: {what}")
        yield told.format(where=where, what="; ".join(map(_, first.unanswered)))
    if len(begun) > 1:
        yield counted("{} more section is only begun.", "{} more are only begun.", len(begun) - 1)


def _line(site: Site, page: WalkPage, planned: PlannedSection) -> PlanLine:
    section, units = planned.section, site.settings.units
    place, where = (section.from_m, section.to_m), span_of(section, units)
    if page.is_answered(place):
        return PlanLine(place, where, page.answer_of(place, units), "answered")
    due = due_words(planned, ZoneInfo(site.settings.zone))
    told = (due, _less(why_words(planned, units)), much_words(planned))
    mark: PlanMark = "late" if planned.late_days > 0 else "due"
    return PlanLine(place, where, "; ".join(filter(None, told)), mark)


def _less(why: str) -> str:
    """Give as many reasons as a row has room for, and how many more there are."""
    reasons = why.split("; ")
    fits = [n for n in range(1, len(reasons) + 1) if len("; ".join(reasons[:n])) <= LETTERS]
    told = max(fits, default=1)
    if told == len(reasons):
        return why
    return "; ".join((*reasons[:told], _("and {n} more").format(n=len(reasons) - told)))


def _last(site: Site, look: Look | None) -> SeenWords:
    if look is None:
        return SeenWords(_("Last time"), (_("nobody walked here yet"),))
    at = day(look.seen.at, ZoneInfo(site.settings.zone))
    return SeenWords(
        _("Last time, {day}").format(day=at), seen_lines(look.seen, site.settings.units)
    )


def _this(site: Site, now: WalkNow) -> SeenWords:
    assert now.at is not None  # noqa: S101 - asked for by the caller
    section = now.at.section
    told = now.work.section((section.from_m, section.to_m))
    noted = tuple(filter(None, (told.said.get("note"),)))
    nothing = (_("not answered yet"), *noted)
    lines = seen_lines(told.seen, site.settings.units) if told.seen is not None else nothing
    return SeenWords(_("This time"), lines)


def _drawing(site: Site, now: WalkNow, demanded: SupportClass) -> Drawing:
    assert now.at is not None  # noqa: S101 - asked for by the caller
    section, heading_id = now.at.section, now.work.about.heading_id
    face_m: Decimal = heading_record(site, heading_id).face_m
    known = [it for it in damages(site, site.now(), heading_id) if it.outcome != "restored"]
    drawing = section_picture(demanded, section, face_m, known, site.settings.units)
    if now.at.last is not None:
        drawing = with_marks(drawing, section, list(_today(now.at.last)), "quiet")
    things = now.work.section((section.from_m, section.to_m)).things
    return numbered(with_marks(drawing, section, things, "lamp"))


def _today(look: Look) -> Iterator[dict[str, Any]]:
    """Yield what was read, and seen of parts not told with their zone, where it lies today."""
    for part in look.seen.parts:
        if part.zone not in look.seen.in_full:
            at_m = part.chainage_m
            today_m = None if at_m is None else look.chaining.today_m(at_m)
            yield {**part.model_dump(), "chainage_m": today_m}
    for read in look.seen.steel:
        yield {**read.model_dump(), "chainage_m": look.chaining.today_m(read.chainage_m)}
