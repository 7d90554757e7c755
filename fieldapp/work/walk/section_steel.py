"""The steel of a section, piece by piece: what was read of it, or what its age comes to.

Readings of one place are one piece, wherever chainages were measured anew; what was read before
its support was renewed was other steel. Mesh and bolts that nobody read are judged by their age,
where the record says when they were put up, and somebody how fast steel goes there.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from math import pi, sqrt
from typing import Final

from fieldapp.assess.corrosion import Piece, Place, SteelJudged, Thickness, judged
from fieldapp.assess.walk import Section
from fieldapp.work.walk.rate_words import rate_words, usual_words
from fieldapp.work.walk.section_condition import SupportRecord, is_replaced
from fieldapp.work.walk.section_history import SectionKnown
from schemas.bodies.damage import DamageZone
from schemas.bodies.walk import SupportPart
from schemas.corrosion_rules import CorrosionRate, Steel, SteelLeft
from schemas.numbers import SAID_M, rounded, text
from schemas.standard import Standard, SupportClass

SAME_PLACE_M: Final = Decimal("0.5")
"""Readings no farther apart along the drive and across it are of one place."""
_STEP_MM: Final = Decimal("0.1")
_BARS: Final = ("grouted bar", "point-anchored bolt")


@dataclass(frozen=True)
class SteelKnown:
    """One piece of steel, what was read of it, and what the standard makes of it."""

    part: SupportPart
    zone: DamageZone | None
    """None: by its age alone, wherever it is."""
    at_m: Decimal
    """In today's chainage."""
    s_m: Decimal | None
    piece: Piece
    readings: tuple[Thickness, ...]
    """The oldest first, those too that can't be."""
    left: SteelLeft
    """What the standard says must be left."""
    judged: SteelJudged

    @property
    def name(self) -> str:
        """Which it is: "mesh, wire of 5.6 mm, at 133.4 m, left shoulder"."""
        new_mm = f"{self.piece.new_mm.normalize() + 0:f}"
        at_m = text(rounded(self.at_m, SAID_M))
        where = f", {self.zone}" if self.zone else ""
        return f"{self.part}, {self.piece.steel} of {new_mm} mm, at {at_m} m{where}"

    @property
    def words(self) -> str:
        """What is left and for how long it is enough."""
        return f"{self.name}: {self.judged.words}"

    @property
    def may_not_last(self) -> bool:
        """Whether less than must be left may be left before the next walk, or is already."""
        in_doubt = self.judged.read_leaves in ("not sure", "too little")
        return in_doubt or bool(self.judged.may_fall_before_next_walk)

    @property
    def how_fast(self) -> tuple[str, ...]:
        """How fast it goes by what was read and by the standard, with ISO 9223 beside it."""
        rate, usual, has_zinc = self.judged.rate, self.judged.usual, self.piece.zinc_um > 0
        read = () if rate is None else (rate_words(rate),)
        return (*read, usual_words(usual, zinc=has_zinc)) if usual else read


@dataclass(frozen=True)
class _Read:
    """One thickness and where it was read."""

    part: SupportPart
    zone: DamageZone
    steel: Steel
    new_mm: Decimal
    at_m: Decimal
    s_m: Decimal | None
    thickness: Thickness

    def is_at(self, other: "_Read") -> bool:
        """Whether it is the same piece as another: one place of one part."""
        across = abs((self.s_m or Decimal(0)) - (other.s_m or Decimal(0)))
        same = (self.part, self.zone, self.steel, self.new_mm)
        return (
            same == (other.part, other.zone, other.steel, other.new_mm)
            and abs(self.at_m - other.at_m) <= SAME_PLACE_M
            and across <= SAME_PLACE_M
        )


@dataclass(frozen=True)
class Rusting:
    """By what the rust of a heading's sections is judged."""

    support: SupportRecord
    standard: Standard
    as_at: datetime


def steel_of(
    by: Rusting, known: SectionKnown, next_walk_at: datetime | None = None
) -> tuple[SteelKnown, ...]:
    """Give the pieces of steel of a section, from the origin inbye."""
    found = [*_read(by, known, next_walk_at), *_by_age(by, known, next_walk_at)]
    return tuple(sorted(found, key=lambda it: (it.at_m, it.part, it.zone or "", it.s_m or 0)))


def _read(by: Rusting, known: SectionKnown, next_walk_at: datetime | None) -> Iterator[SteelKnown]:
    for reads in _pieces(_reads(by, known)):
        newest = max(reads, key=lambda it: (it.thickness.at, it.at_m))
        put_up_at = by.support.put_up_at(Section(newest.at_m, newest.at_m), newest.zone)
        left = _left(by, newest.steel)
        if left is not None:
            piece = Piece(newest.steel, newest.new_mm, put_up_at, left.zinc_um)
            readings = tuple(sorted((it.thickness for it in reads), key=lambda it: it.at))
            found = judged(piece, readings, _place(by, left, next_walk_at))
            place = (newest.zone, newest.at_m, newest.s_m)
            yield SteelKnown(newest.part, *place, piece, readings, left, found)


def _reads(by: Rusting, known: SectionKnown) -> Iterator[_Read]:
    section = known.section
    for look in known.looks:
        for it in look.seen.steel:
            at_m = look.chaining.today_m(it.chainage_m)
            gone = is_replaced(look.seen.at, it.zone, Section(at_m, at_m), by.support.restored)
            if section.from_m <= at_m <= section.to_m and not gone:
                thickness = Thickness(
                    look.seen.at, it.read_mm, it.u_mm, zinc_gone=it.zinc_seen is False
                )
                place = (it.part, it.zone, it.steel, it.original_mm, at_m, it.s_m)
                yield _Read(*place, thickness)


def _pieces(reads: Iterable[_Read]) -> list[list[_Read]]:
    """Put together what was read at one place; the first place that was read stays the place."""
    found: list[list[_Read]] = []
    for it in sorted(reads, key=lambda it: (it.thickness.at, it.at_m, it.s_m or 0)):
        of_it = next((one for one in found if it.is_at(one[0])), None)
        if of_it is None:
            found.append([it])
        else:
            of_it.append(it)
    return found


def _by_age(
    by: Rusting, known: SectionKnown, next_walk_at: datetime | None
) -> Iterator[SteelKnown]:
    """Yield mesh and bolts of which the standard says what was put up, and the record when."""
    for it in by.support.put_up_in(known.section) if _rate(by) else ():
        support_class = by.standard.support_class(it.support_class)
        if support_class is not None and it.at is not None:
            at_m = max(it.ground.from_m, known.section.from_m)
            for part, steel, new_mm in _put_up(support_class):
                left = _left(by, steel)
                if left is not None:
                    piece = Piece(steel, new_mm, it.at, left.zinc_um)
                    found = judged(piece, (), _place(by, left, next_walk_at))
                    yield SteelKnown(part, None, at_m, None, piece, (), left, found)


def _put_up(support_class: SupportClass) -> Iterator[tuple[SupportPart, Steel, Decimal]]:
    """Yield what the class's sheet says of mesh and bars; of tubes it tells no wall."""
    if support_class.mesh is not None:
        yield "mesh", "wire", support_class.mesh.wire_mm
    threads = {it.thread_area_mm2 for it in support_class.bolts if it.kind in _BARS}
    for area_mm2 in sorted(threads):
        yield "bolts", "bar", rounded(2 * sqrt(float(area_mm2) / pi), _STEP_MM)


def _left(by: Rusting, steel: Steel) -> SteelLeft | None:
    return next((it for it in by.standard.corrosion.left if it.of == steel), None)


def _rate(by: Rusting) -> CorrosionRate | None:
    """Give the standard's rates of the heading's air and water; None: nobody said what it is."""
    rates = by.standard.corrosion.rates
    return next((it for it in rates if it.corrosivity == by.support.place.corrosivity), None)


def _place(by: Rusting, left: SteelLeft, next_walk_at: datetime | None) -> Place:
    return Place(left.share_at_least, _rate(by), by.as_at, next_walk_at)
