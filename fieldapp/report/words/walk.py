"""What was seen of a section in words: the same on the screen, in the terminal and on paper."""

from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, tzinfo
from typing import Final

from assets.translate import _
from fieldapp.report.words.findings import day
from fieldapp.report.words.lengths import Units, in_units
from fieldapp.work.called import called
from schemas.bodies.walk import (
    Answer,
    DistanceRead,
    OpenDamageSeen,
    PartSeen,
    SectionSeen,
    SteelRead,
    ZoneSeen,
)
from schemas.numbers import text

AT_FIRST: Final[dict[Answer, str]] = {
    "nothing new": "no damage seen",
    "something new": "something seen",
}
"""Nothing is new where nobody had looked before."""


def seen_lines(seen: SectionSeen, units: Units, zone: tzinfo | None = None) -> tuple[str, ...]:
    """Say what was seen of a section, the answer first: "something new", "mesh, back: S2".

    In a zone, readings say when they were touched.
    """
    return tuple(in_units(it, units) for it in _lines(seen, zone))


def month_words(month: str) -> str:
    """Say a month as people do: "2031-05" is "May 2031"."""
    first = datetime.fromisoformat(f"{month}-01T00:00:00+00:00")
    _day, _space, words = day(first, UTC).partition(" ")
    return words


def part_words(part: PartSeen) -> str:
    """Say the state of a part: "3 plates, right wall: S1, rust 4, hangs 140 mm"."""
    what = f"{part.count} {_(part.part)}" if part.count is not None else _(part.part)
    said = (
        part.severity,
        None if part.corrosion_grade is None else _("rust {n}").format(n=part.corrosion_grade),
        None if part.bag_depth_mm is None else _("hangs {n} mm").format(n=text(part.bag_depth_mm)),
    )
    where = f"{what}, {_(part.zone)}"
    return ": ".join(filter(None, (where, ", ".join(filter(None, said)))))


def _touched(at: datetime | None, zone: tzinfo | None) -> str:
    """Say when a reading was touched on the tablet, where that is known and asked for."""
    if at is None or zone is None:
        return ""
    return ", " + _("touched {time}").format(time=f"{at.astimezone(zone):%H:%M}")


def _lines(seen: SectionSeen, zone: tzinfo | None) -> Iterator[str]:
    why = f": {_(seen.not_reached)}" if seen.not_reached else ""
    answer = AT_FIRST.get(seen.answer, seen.answer) if seen.first_look else seen.answer
    yield f"{_(answer)}{why}"
    yield from (part_words(it) for it in seen.parts if not _is_in_full(it, seen))
    yield from (_zone_words(it) for it in seen.zones if not _is_dry_and_clean(it))
    yield from (f"{_steel_words(it)}{_touched(it.read_at, zone)}" for it in seen.steel)
    yield from (f"{_distance_words(it)}{_touched(it.read_at, zone)}" for it in seen.distances)
    if seen.damages:
        yield _("damage: {n}").format(n=len(seen.damages))
    yield from (_open_damage_words(it) for it in seen.open_damage)
    for name in seen.in_full:
        yield _in_full_words(name, seen)
    if seen.photo:
        yield _("photo taken")
    if seen.unanswered:
        yield _("not answered: {what}").format(what="; ".join(map(_, seen.unanswered)))
    if seen.note:
        yield seen.note


def _open_damage_words(one: OpenDamageSeen) -> str:
    """Say what was said of open damage: "open damage 7K3Q-9XTR-5: as it was"."""
    said = _("said to be repaired") if one.said == "repaired" else _(one.said)
    return _("open damage {id}: {said}").format(id=called(one.damage), said=said)


def _is_in_full(part: PartSeen, seen: SectionSeen) -> bool:
    """Tell whether a part was told with its whole zone, and not as something new."""
    told = (part.chainage_m, part.count, part.bag_depth_mm)
    return part.zone in seen.in_full and all(it is None for it in told)


def _in_full_words(zone: str, seen: SectionSeen) -> str:
    """Say what a zone was from its mildest to its worst part: "back in full: S0, S2, rust 1 to 3".

    Where all of it was said to be out of sight, so it is.
    """
    parts = [it for it in seen.parts if it.zone == zone and _is_in_full(it, seen)]
    severities = sorted({it.severity for it in parts if it.severity is not None})
    grades = sorted({it.corrosion_grade for it in parts if it.corrosion_grade is not None})
    rust = [_("rust {n}").format(n=_grades(grades))] if grades else []
    said = ", ".join((*severities, *rust)) or _("not seen")
    return _("{zone} in full: {said}").format(zone=_(zone), said=said)


def _grades(grades: Sequence[int]) -> str:
    least, most = grades[0], grades[-1]
    return str(least) if least == most else _("{least} to {most}").format(least=least, most=most)


def _is_dry_and_clean(zone: ZoneSeen) -> bool:
    return zone.water in (None, "dry") and zone.scats in (None, "none")


def _zone_words(zone: ZoneSeen) -> str:
    scats = None if zone.scats in (None, "none") else f"{_(zone.scats)} {_('scats')}"
    return f"{_(zone.zone)}: {', '.join(filter(None, (_(zone.water or ''), scats)))}"


def _steel_words(read: SteelRead) -> str:
    zinc = {True: _("zinc there"), False: _("no zinc"), None: ""}[read.zinc_seen]
    size = f"{text(read.read_mm)} of {text(read.original_mm)} mm"
    said = (f"{_(read.steel)} {size}", _(read.zone), zinc)
    return ", ".join(filter(None, said))


def _distance_words(read: DistanceRead) -> str:
    return f"{read.station}, {_(read.between)}: {text(read.read_mm)} mm"
