"""Everything that was ever seen of each section of a heading, whoever saw it, the newest first.

Chainages are kept as they were read; where they lie today is worked out when they are shown.
Of years of walks, only what was seen of the ground that is asked for is read in full.
"""

from bisect import bisect_right
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal
from typing import Any, Final
from zoneinfo import ZoneInfo

from pydantic import AwareDatetime, ValidationError

from fieldapp.assess.walk import Section, sections_of, today_m
from fieldapp.work.authority import Which, counting
from fieldapp.work.headings import strictest_of
from fieldapp.work.rechaining import rechained_of
from fieldapp.work.site import Sight, Timed
from fieldapp.work.standard_in_force import NoStandard, in_force
from fieldapp.work.walk.read_apart import Apart, read_apart
from fieldapp.work.walk.supported_ground import supported_ground
from schemas.bodies.heading import Rechained
from schemas.bodies.walk import SectionSeen, Walk
from schemas.entry import Entry
from schemas.numbers import Offset, text
from schemas.part import Part
from schemas.trouble import BadInput
from schemas.walk_rules import WalkRule
from sync.ledger import name_in

SECTION_WITHOUT_A_STANDARD_M: Final = Decimal(10)


@dataclass(eq=False)
class NoSectionThere(BadInput):
    """A place lies outside of the supported ground."""

    heading: str
    at_m: str
    from_m: str
    to_m: str

    happened = "No ground of {heading} is supported at {at_m} m, as far as is recorded."
    kept = "Nothing was changed."
    do_next = "Name a place from {from_m} m to {to_m} m; past that, accept the round first."


@dataclass(frozen=True)
class Chaining:
    """How the chainages of one walk are read today."""

    by_m: Decimal
    """What whoever walked it said is added."""
    at: datetime
    """Whatever was measured anew later is added too."""
    rechained: tuple[Rechained, ...]

    def today_m(self, read_m: Decimal, *, ends_there: bool = False) -> Decimal:
        """Give where a place lies today."""
        if not self.rechained:  # nearly always, and asked of each section of years of walks
            return read_m + self.by_m
        return today_m(read_m + self.by_m, self.at, self.rechained, ends_there=ends_there)

    def ground(self, from_m: Decimal, to_m: Decimal) -> Section:
        """Give where a stretch lies today."""
        return Section(self.today_m(from_m), self.today_m(to_m, ends_there=True))


@dataclass(frozen=True)
class Look:
    """One section as one person saw it on one walk."""

    walk_id: str
    author: str
    month: str
    seen: SectionSeen
    """As it was read, with the chainages of that day."""
    chaining: Chaining
    two_on_this_day: bool = False
    """Whether somebody else looked at the section on the same day: both stand."""
    apart: tuple[Apart, ...] = ()
    """Distances that another look of the day read otherwise."""

    @property
    def ground(self) -> Section:
        """What was looked at, in today's chainages."""
        return self.chaining.ground(self.seen.from_m, self.seen.to_m)

    @property
    def reached(self) -> bool:
        """Whether it could be looked at."""
        return self.seen.answer != "not reached"

    @property
    def whole(self) -> bool:
        """Whether it was reached, and everything that was asked of it was answered."""
        return self.reached and not self.seen.unanswered


@dataclass(frozen=True)
class SectionKnown:
    """A section of supported ground, and every look at some of it."""

    section: Section
    looks: tuple[Look, ...]
    """The newest first."""

    @property
    def last(self) -> Look | None:
        """The newest look that reached most of it, else some of it; None: nobody ever did."""
        reached = [it for it in self.looks if it.reached]
        mostly = (it for it in reached if self.section.is_mostly(it.ground))
        return next(mostly, None) or next(iter(reached), None)

    def mostly(self) -> Iterator[Look]:
        """Yield the looks at half of it or more, so that none is counted for two sections."""
        return (it for it in self.looks if self.section.is_mostly(it.ground))


class _Outing(Part):
    """A walk of which no section was read yet."""

    month: str
    began_at: AwareDatetime
    sections: tuple[Any, ...]
    rechained_by_m: Offset | None = None


def sections_known(site: Timed, heading_id: str) -> tuple[SectionKnown, ...]:
    """Give the sections of a heading's supported ground with their looks, from the origin."""
    cut = _cut(site, heading_id)
    asked = ("sections known", heading_id, cut)
    return counting(site).remembered(asked, lambda: tuple(_all_known(site, heading_id, cut)))


def section_known(site: Timed, heading_id: str, chainage_m: Decimal) -> SectionKnown | None:
    """Give the section in which a chainage lies; None where no ground is supported there.

    A border belongs to the section inbye of it, the end of the ground to the last one.
    """
    cut = _cut(site, heading_id)
    here = [it for it in cut if it.from_m <= chainage_m < it.to_m]
    here = here or [it for it in cut[-1:] if it.to_m == chainage_m]
    return _known(site, here[0], looks(site, heading_id, here[0])) if here else None


def section_at(site: Timed, heading_id: str, chainage_m: Decimal) -> SectionKnown:
    """Give the section in which a chainage lies.

    Raises
    ------
    NoSectionThere
        No ground is supported there, as far as is recorded.
    """
    known = section_known(site, heading_id, chainage_m)
    if known is None:
        ground = supported_ground(site, heading_id)
        name, at_m = strictest_of(site, heading_id).name, text(chainage_m)
        raise NoSectionThere(name, at_m, text(ground.from_m), text(ground.to_m))
    return known


def looks(site: Sight, heading_id: str, within: Section | None = None) -> Iterator[Look]:
    """Yield every look at a heading, or only those at some of one stretch of it.

    What only a newer version of this program can read is left out: that ground is due again.
    """
    rechained = rechained_of(site, heading_id)
    for entry in counting(site).heads(Which("walk", named="heading", name=heading_id)):
        if name_in(entry.body, "heading") == heading_id:
            yield from _looks_of(entry, rechained, within)


def ground_today(site: Timed, walk: Walk, section: SectionSeen) -> Section:
    """Give where a section of a walk that is about to be stated lies today."""
    rechained = rechained_of(site, walk.heading)
    by_m = walk.rechained_by_m
    read = Chaining(by_m or Decimal(0), section.at if by_m is None else site.now(), rechained)
    return read.ground(section.from_m, section.to_m)


def section_m(site: Timed) -> Decimal:
    """Give the length of a section by the standard in force, in metres."""
    rule = walk_rule(site)
    return rule.section_m if rule else SECTION_WITHOUT_A_STANDARD_M


def walk_rule(site: Timed) -> WalkRule | None:
    """Give what the standard in force says of walks; None where nothing does."""
    try:
        return in_force(site, site.now()).body.walk
    except NoStandard:
        return None


def _cut(site: Timed, heading_id: str) -> tuple[Section, ...]:
    ground = supported_ground(site, heading_id)
    return sections_of(ground.from_m, ground.to_m, section_m(site))


def _all_known(site: Timed, heading_id: str, cut: Sequence[Section]) -> Iterator[SectionKnown]:
    ends = [it.to_m for it in cut]
    found: dict[Section, list[Look]] = defaultdict(list)
    for look in looks(site, heading_id):
        ground = look.ground
        for section in cut[bisect_right(ends, ground.from_m) :]:
            if section.from_m >= ground.to_m:
                break
            found[section].append(look)
    for section in cut:
        yield _known(site, section, found[section])


def _known(site: Timed, section: Section, seen: Iterable[Look]) -> SectionKnown:
    newest_first = sorted(seen, key=lambda it: (it.seen.at, it.walk_id, it.author), reverse=True)
    days = [it.seen.at.astimezone(ZoneInfo(site.settings.zone)).date() for it in newest_first]
    by_whom = set(zip(days, (it.author for it in newest_first), strict=True))
    people = Counter(day for day, _ in by_whom)
    marked = (
        replace(it, two_on_this_day=people[day] > 1, apart=_apart(it, day, newest_first, days))
        for it, day in zip(newest_first, days, strict=True)
    )
    return SectionKnown(section, tuple(marked))


def _apart(
    look: Look, day: date, looks: Sequence[Look], days: Sequence[date]
) -> tuple[Apart, ...]:
    """Find what another look of the same day read otherwise; nearly always nothing was read."""
    if not look.seen.distances:
        return ()
    same_day = (it for it, on in zip(looks, days, strict=True) if on == day and it is not look)
    return read_apart(look.seen.distances, [read for it in same_day for read in it.seen.distances])


def _looks_of(
    entry: Entry, rechained: tuple[Rechained, ...], within: Section | None
) -> Iterator[Look]:
    try:
        outing = _Outing.model_validate(dict(entry.body))
    except ValidationError:
        return
    of_all = _chaining(outing, entry, rechained)
    for said in outing.sections:
        chaining = of_all
        if rechained and outing.rechained_by_m is None:
            chaining = replace(of_all, at=_answered_at(said) or of_all.at)
        if within is None or _may_show(said, chaining, within):
            with suppress(ValidationError):  # a newer version's
                seen = SectionSeen.model_validate(said)
                yield Look(entry.id, entry.author, outing.month, seen, chaining)


def _chaining(outing: _Outing, entry: Entry, rechained: tuple[Rechained, ...]) -> Chaining:
    """Tell how a walk's chainages are read.

    What its author adds gives those of when it was stated; otherwise each section's are those
    of when it was answered: chainages may be measured anew while somebody walks.
    """
    if outing.rechained_by_m is None:
        return Chaining(Decimal(0), outing.began_at, rechained)
    return Chaining(outing.rechained_by_m, entry.made_at, rechained)


def _answered_at(said: Any) -> datetime | None:
    try:
        return datetime.fromisoformat(said["at"])
    except (KeyError, TypeError, ValueError):  # a newer version's
        return None


def _may_show(said: Any, chaining: Chaining, within: Section) -> bool:
    """Tell by the borders alone whether what was said may be of some of the ground."""
    try:
        ground = chaining.ground(Decimal(said["from_m"]), Decimal(said["to_m"]))
        return ground.overlaps(within.from_m, within.to_m)
    except (KeyError, TypeError, ValueError, ArithmeticError):  # a newer version's
        return False
