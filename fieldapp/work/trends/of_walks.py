"""What is followed of old support: how much of it is rusted or damaged, section by section."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Final
from zoneinfo import ZoneInfo

from fieldapp.assess.walk import PartStated, worst_grade
from fieldapp.work.known import Known
from fieldapp.work.site import Timed
from fieldapp.work.standard_in_force import NoStandard, in_force
from fieldapp.work.trends.points import Evidence, Measure, Sample, groups_of
from fieldapp.work.walk.section_condition import parts_stated
from fieldapp.work.walk.section_history import Look, SectionKnown, sections_known, walk_rule
from fieldapp.work.walk.supported_ground import Restored, restored
from schemas.bodies.heading import Heading
from schemas.bodies.walk import SteelRead
from schemas.numbers import said_m

_TENTH: Final = Decimal("0.1")
_GRAVE_RUST: Final = 3
"""Where no standard says from which grade ground is walked more often."""

RUST: Final = Measure(
    "rusted",
    "Sections rusted enough to be walked more often",
    "%",
    "share",
    _TENTH,
    "less",
    of_places=True,
)
WORN: Final = Measure(
    "worn", "Sections where damage shows", "%", "share", _TENTH, "less", of_places=True
)
GRADE: Final = Measure(
    "rust-grade", "Worst grade of rust", "grade", "each", Decimal(1), "less", of_places=True
)
STEEL: Final = Measure(
    "steel-left", "Thinnest steel read", "% of new", "each", _TENTH, "more", of_places=True
)
REACHED: Final = Measure(
    "reached", "Sections reached on walks", "%", "share", _TENTH, "more", of_places=True
)


def rusted(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield 1 for a section looked at whose rust shortens its interval by the standard.

    Where nothing was new, the grades stand that were said before.
    """
    grave, renewed = _grave_rust(site), restored(site, place.id)
    for known in sections_known(site, place.id):
        for look in known.mostly():
            if look.reached:
                grade = worst_grade(tuple(_stated_by(site, known, look, renewed)))
                yield _sample(place, known, look, Decimal((grade or 0) >= grave))


def worn(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield 1 for a section looked at where any part is graver than the mildest severity."""
    mildest = _mildest(site)

    def is_worn(look: Look) -> Decimal:
        said = {it.severity for it in look.seen.parts if it.severity is not None}
        return Decimal(bool(said - {mildest} or look.seen.damages))

    yield from _of_looks(site, place, is_worn)


def grades(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield the worst grade of rust of each look that says one."""
    yield from _of_looks(site, place, lambda look: _decimal(_worst_rust(look)))


def steel(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield the thinnest reading of each look, as a share of what was there when it was new."""
    for known in sections_known(site, place.id):
        for look in known.looks:
            read = (it for it in look.seen.steel if _is_in(known, look, it))
            thinnest = min((it.read_mm / it.original_mm * 100 for it in read), default=None)
            if thinnest is not None and look.reached:
                yield _sample(place, known, look, thinnest)


def _is_in(known: SectionKnown, look: Look, read: SteelRead) -> bool:
    """Whether a reading lies in a section today, however many a look reached some of."""
    at_m = look.chaining.today_m(read.chainage_m)
    return known.section.from_m <= at_m <= known.section.to_m


def reached(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield 1 for a section that was reached, 0 for one that could not be."""
    for known in sections_known(site, place.id):
        for look in known.mostly():
            yield _sample(place, known, look, Decimal(look.reached))


def _stated_by(
    site: Timed, known: SectionKnown, look: Look, renewed: Sequence[Restored]
) -> Iterator[PartStated]:
    """Yield what was said of the parts of a section up to one look at it."""
    until = look.seen.at
    looks = tuple(it for it in known.looks if it.seen.at <= until)
    before = [it for it in renewed if it.at <= until]
    return parts_stated(replace(known, looks=looks), before, ZoneInfo(site.settings.zone))


def _of_looks(
    site: Timed, place: Known[Heading], value: Callable[[Look], Decimal | None]
) -> Iterator[Sample]:
    for known in sections_known(site, place.id):
        for look in known.mostly():
            found = value(look) if look.reached else None
            if found is not None:
                yield _sample(place, known, look, found)


def _worst_rust(look: Look) -> int | None:
    grades = [it.corrosion_grade for it in look.seen.parts if it.corrosion_grade is not None]
    return max(grades, default=None)


def _grave_rust(site: Timed) -> int:
    rule = walk_rule(site)
    said = [it.corrosion_from for it in rule.intervals if it.corrosion_from] if rule else []
    return min(said, default=_GRAVE_RUST)


def _mildest(site: Timed) -> str | None:
    try:
        severities = in_force(site, site.now()).body.severities
    except NoStandard:
        return None
    return severities[0].code if severities else None


def _decimal(grade: int | None) -> Decimal | None:
    return None if grade is None else Decimal(grade)


def _sample(place: Known[Heading], known: SectionKnown, look: Look, value: Decimal) -> Sample:
    section = f"{said_m(known.section.from_m)} to {said_m(known.section.to_m)} m"
    words = f"{place.body.name}, {section}"
    evidence = Evidence("walk", look.walk_id, place.id, words, known.section.from_m)
    return Sample(look.seen.at, value, evidence, groups_of(place.body, section=words), place=words)
