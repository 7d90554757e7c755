"""What was read last of the steel at a place, and whether a reading may be right beside it."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo
from decimal import Decimal

from fieldapp.assess.corrosion import Thickness, out_of_reason
from fieldapp.assess.times import date_words
from fieldapp.assess.walk import Section
from fieldapp.work.walk.section_condition import is_replaced
from fieldapp.work.walk.section_history import Look
from fieldapp.work.walk.section_steel import SAME_PLACE_M
from fieldapp.work.walk.section_work import Place
from fieldapp.work.walk.supported_ground import Restored
from schemas.bodies.damage import DamageZone
from schemas.bodies.walk import SteelRead
from schemas.numbers import text
from schemas.standard import Standard


@dataclass(frozen=True)
class SteelBefore:
    """A reading that was taken before."""

    read: SteelRead
    """With its chainage of today."""
    at: datetime
    """In the mine's own time."""

    @property
    def words(self) -> str:
        """What was read and when: "18.03 mm, 4 May 2031"."""
        return f"{text(self.read.read_mm)} mm, {date_words(self.at)}"

    @property
    def thickness(self) -> Thickness:
        """What was read, dated."""
        return Thickness(self.at, self.read.read_mm, self.read.u_mm)


def steel_before(
    looks: Iterable[Look], renewed: Sequence[Restored], zone: tzinfo
) -> Iterator[SteelBefore]:
    """Yield what was read of steel that still is there, the newest first."""
    for look in sorted(looks, key=lambda it: it.seen.at, reverse=True):
        for it in look.seen.steel:
            at_m = look.chaining.today_m(it.chainage_m)
            if not is_replaced(look.seen.at, it.zone, Section(at_m, at_m), renewed):
                today = it.model_copy(update={"chainage_m": at_m})
                yield SteelBefore(today, look.seen.at.astimezone(zone))


def last_there(read: SteelRead, before: Iterable[SteelBefore]) -> SteelBefore | None:
    """Give the newest of the readings that are of the same piece as one."""
    return next((it for it in before if _is_there(it.read, read)), None)


def pieces(
    before: Iterable[SteelBefore], zone: DamageZone | None, within: Place
) -> tuple[SteelBefore, ...]:
    """Give the newest reading of each piece that was read in a zone of a section."""
    found: list[SteelBefore] = []
    for it in before:
        there = it.read.zone == zone and within[0] <= it.read.chainage_m <= within[1]
        if there and last_there(it.read, found) is None:
            found.append(it)
    return tuple(found)


def doubt(
    read: SteelRead, at: datetime, before: SteelBefore | None, standard: Standard | None
) -> str | None:
    """Say why a reading is asked about, as it was not read twice; None where it may well be."""
    if read.read_twice:
        return None
    rates = standard.corrosion.rates if standard else ()
    fastest = max((it.steel_um_per_year for it in rates), default=None)
    now = Thickness(at, read.read_mm, read.u_mm)
    last = before.thickness if before else None
    return out_of_reason(read.steel, read.original_mm, now, last, fastest)


def _is_there(one: SteelRead, other: SteelRead) -> bool:
    """Whether two readings are of one piece; typed by chainage alone, all across a zone count."""
    same = ("part", "zone", "steel", "original_mm")
    if any(getattr(one, it) != getattr(other, it) for it in same):
        return False
    across = Decimal(0)
    if one.s_m is not None and other.s_m is not None:
        across = abs(one.s_m - other.s_m)
    return max(abs(one.chainage_m - other.chainage_m), across) <= SAME_PLACE_M
