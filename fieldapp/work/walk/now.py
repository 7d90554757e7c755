"""Where a walk is: the section at hand, what is known of it, and what is asked of it next."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from zoneinfo import ZoneInfo

from fieldapp.assess.times import date_words
from fieldapp.assess.walk import Section
from fieldapp.work.asked import Asked
from fieldapp.work.heading_record import heading_record
from fieldapp.work.headings import strictest_of
from fieldapp.work.site import Site
from fieldapp.work.standard_in_force import NoStandard, in_force
from fieldapp.work.walk.draft import WalkWork
from fieldapp.work.walk.open_damage import OpenDamage, open_damages
from fieldapp.work.walk.plan import PlannedSection, WalkPlan
from fieldapp.work.walk.questions import section_question
from fieldapp.work.walk.readings import Station
from fieldapp.work.walk.section_history import Look, section_known
from fieldapp.work.walk.section_work import Place
from fieldapp.work.walk.steel_before import SteelBefore, steel_before
from fieldapp.work.walk.supported_ground import restored
from fieldapp.work.walk.things import Here
from schemas.bodies.damage import Damage
from schemas.numbers import text
from schemas.standard import Standard, SupportClass


@dataclass(frozen=True)
class WalkNow:
    """A walk at one moment; `at` is None once every planned section is answered."""

    work: WalkWork
    plan: WalkPlan
    at: PlannedSection | None
    here: Here | None
    asked: Asked | None
    done: frozenset[Place]
    """The sections that have their answer, with everything that was drawn."""

    @property
    def answered(self) -> int:
        """How many sections have their answer."""
        return len(self.done)

    @property
    def left(self) -> int:
        """How many of the plan have not."""
        return sum(_place(it.section) not in self.done for it in self.plan.sections)


@dataclass(frozen=True)
class Known:
    """What is known of a heading while it is walked."""

    standard: Standard | None
    demanded: SupportClass | None
    exposure: str | None
    damages: Mapping[str, Damage]
    open_damages: tuple[OpenDamage, ...]

    @property
    def of_the_heading(self) -> Here:
        """What is known wherever somebody stands in it."""
        return Here(
            standard=self.standard,
            demanded=self.demanded,
            exposure=self.exposure,
            damages=self.damages,
        )

    def here(
        self,
        planned: PlannedSection,
        stations: tuple[Station, ...] = (),
        photos_before: tuple[str, ...] = (),
        steel: tuple[SteelBefore, ...] = (),
    ) -> Here:
        """Give what is known of a section before anything is asked of it."""
        return replace(
            self.of_the_heading,
            in_full=planned.in_full,
            photo=planned.photo,
            first_look=planned.last is None or not planned.last.whole,
            stations=stations,
            photos_before=photos_before,
            steel=steel,
            open_damages=tuple(
                it
                for it in self.open_damages
                if it.is_in(planned.section.from_m, planned.section.to_m)
            ),
        )


def walk_now(site: Site, work: WalkWork, plan: WalkPlan) -> WalkNow:
    """Find the section at hand: the one touched last, then the next inbye that is not answered."""
    known = known_of(site, work)
    today = site.now().date()
    planned = {_place(it.section): it for it in plan.sections}
    asked_now = _asked_of(known, work, plan, today)
    done = frozenset(place for place, asked in asked_now.items() if asked is None)
    at = _at_hand(work.at, sorted(planned), done)
    if at is None:
        return WalkNow(work, plan, None, None, None, done)
    here_planned = planned.get(at) or _not_due(site, work.about.heading_id, unplanned(at, today))
    looks = _looks(site, work.about.heading_id, here_planned.section)
    before = tuple(it.seen.photo for it in looks if it.seen.photo is not None)
    zone = ZoneInfo(site.settings.zone)
    steel = tuple(steel_before(looks, restored(site, work.about.heading_id), zone))
    stations = tuple(_stations(site, looks, here_planned.section))
    here = known.here(here_planned, stations, before, steel)
    asked = section_question(work.section(at), here)
    return WalkNow(work, plan, here_planned, here, asked, done)


def asked_of(site: Site, work: WalkWork, plan: WalkPlan) -> Mapping[Place, Asked | None]:
    """Give what is asked next of every section that was touched; None where it is answered."""
    return _asked_of(known_of(site, work), work, plan, site.now().date())


def known_of(site: Site, work: WalkWork) -> Known:
    """Give what is known of the heading of a walk, whatever section is asked about."""
    place = strictest_of(site, work.about.heading_id)
    try:
        standard = in_force(site, site.now()).body
    except NoStandard:
        standard = None
    demanded = standard.support_class(place.support_class) if standard else None
    record = heading_record(site, work.about.heading_id)
    seen = {it.id: it.damage for known in record.damages for it in known.seen}
    still_open = open_damages(record, work.about.began_at)
    return Known(standard, demanded, place.exposure, seen, still_open)


def unplanned(place: Place, on: date) -> PlannedSection:
    """Give a section that somebody goes to although it is not due."""
    return PlannedSection(
        section=Section(*place),
        due_on=on,
        late_days=0,
        why="",
        in_full=(),
        photo=False,
        last=None,
    )


def _asked_of(
    known: Known, work: WalkWork, plan: WalkPlan, today: date
) -> Mapping[Place, Asked | None]:
    planned = {_place(it.section): it for it in plan.sections}
    return {
        place: section_question(section, known.here(planned.get(place) or unplanned(place, today)))
        for place, section in work.sections.items()
    }


def _place(section: Section) -> Place:
    return section.from_m, section.to_m


def _not_due(site: Site, heading_id: str, planned: PlannedSection) -> PlannedSection:
    """Give a section that is not due any more with what was seen of it last."""
    known = section_known(site, heading_id, planned.section.from_m)
    return replace(planned, last=known.last) if known is not None else planned


def _at_hand(
    touched: Place | None, places: Sequence[Place], done: frozenset[Place]
) -> Place | None:
    if touched is not None and touched not in done:
        return touched
    waiting = [it for it in places if it not in done]
    after = [it for it in waiting if touched is not None and it[0] >= touched[1]]
    return next(iter((*after, *waiting)), None)


def _looks(site: Site, heading_id: str, section: Section) -> tuple[Look, ...]:
    known = section_known(site, heading_id, section.from_m)
    return known.looks if known is not None else ()


def _stations(site: Site, looks: Iterable[Look], section: Section) -> Iterator[Station]:
    """Yield the stations that lie in a section today, each with its newest reading."""
    given: set[str] = set()
    for look in looks:
        for read in look.seen.distances:
            at_m: Decimal = look.chaining.today_m(read.chainage_m)
            if read.station not in given and section.from_m <= at_m <= section.to_m:
                given.add(read.station)
                seen_at = look.seen.at.astimezone(ZoneInfo(site.settings.zone))
                apart = (it for it in look.apart if it.station == read.station)
                unsure = "".join(f"; {text(it.by_mm)} mm apart that day" for it in apart)
                last = f"{text(read.read_mm)} mm, {date_words(seen_at)}{unsure}"
                yield Station(read.station, read.between, at_m, last, read.read_mm)
