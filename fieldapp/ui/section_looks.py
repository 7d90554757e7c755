"""Every look at a section of old support, in words: what a point of a walk leads to."""

from dataclasses import dataclass
from decimal import Decimal
from zoneinfo import ZoneInfo

from fieldapp.report.words.findings import BETWEEN, day
from fieldapp.report.words.lengths import Units, span_words
from fieldapp.report.words.walk import seen_lines
from fieldapp.ui.names import short
from fieldapp.ui.translate import _
from fieldapp.work.headings import heading
from fieldapp.work.site import Site
from fieldapp.work.walk.section_history import Look, section_at


@dataclass(frozen=True)
class LookShown:
    """What was seen of a section on one day. Nobody is named."""

    day: str
    lines: tuple[str, ...]

    @property
    def detail(self) -> str:
        """The answer, and how much more was said."""
        first, more = self.lines[0], len(self.lines) - 1
        return _("{first}; and {n} more").format(first=first, n=more) if more else first


@dataclass(frozen=True)
class SectionShown:
    """A section, and the looks at it: the one that was asked for, then the newest first."""

    title: str
    looks: tuple[LookShown, ...]


def section_shown(site: Site, heading_id: str, chainage_m: Decimal, walk_id: str) -> SectionShown:
    """Gather the looks at the section in which a chainage lies; those of one walk come first.

    Raises
    ------
    NoSectionThere
        No ground is supported there, as far as is recorded.
    """
    known, units = section_at(site, heading_id, chainage_m), site.settings.units
    zone, name = ZoneInfo(site.settings.zone), short(heading(site, heading_id).body.name)
    in_order = sorted(known.looks, key=lambda it: it.walk_id != walk_id)
    looks = (_look(it, units, zone, asked=it.walk_id == walk_id) for it in in_order)
    where = span_words(known.section.from_m, known.section.to_m, units, " – ")
    return SectionShown(f"{name}, {where}", tuple(looks))


def _look(look: Look, units: Units, zone: ZoneInfo, *, asked: bool) -> LookShown:
    at = day(look.seen.at, zone)
    title = f"{at}{BETWEEN}{_('this point')}" if asked else at
    return LookShown(title, seen_lines(look.seen, units))
