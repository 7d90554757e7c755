"""One section of a walk on the unrolled drive: what was there last time, and what is new."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from math import ceil
from typing import Any, Final

from assets.translate import _
from fieldapp.assess.walk import Section
from fieldapp.report.damage_picture import damage_picture
from fieldapp.report.shapes import Circle, Drawing, Tag, ZoneBand
from fieldapp.report.words.lengths import Units
from fieldapp.work.damage.stating import DamageKnown
from schemas.standard import SupportClass

MARK_M: Final = 1.0
BEYOND_M: Final = 0.3
"""Drawn beyond each end of the section."""


def section_picture(
    demanded: SupportClass,
    section: Section,
    face_m: Decimal,
    known: Sequence[DamageKnown],
    units: Units,
) -> Drawing:
    """Draw the ground of a section with the damage that is known there."""
    middle_m = (section.from_m + section.to_m) / 2
    reach_m = ceil((section.to_m - section.from_m) / 2)
    drawing = damage_picture(demanded, (middle_m, reach_m), face_m, known, units)
    ends = float(section.from_m) - BEYOND_M, float(section.to_m) + BEYOND_M
    return replace(drawing, x_from_m=ends[0], x_to_m=ends[1])


def with_marks(
    drawing: Drawing, section: Section, things: Sequence[dict[str, Any]], colour: str
) -> Drawing:
    """Add a mark and a few words for each thing, in the middle of its zone where it lies all over.

    What lies beyond the drawing, such as on the floor or what was read before chainages were
    measured anew, is left out: the words beside the drawing say it.
    """
    marks = tuple(_marks(drawing, section, things, colour))
    circles = tuple(it for it, _tag in marks)
    # What was just placed has the first choice of room, so that its words do not vanish.
    tags = tuple(tag for _it, tag in reversed(marks) if tag.text)
    return replace(drawing, circles=(*drawing.circles, *circles), tags=(*tags, *drawing.tags))


def numbered(drawing: Drawing) -> Drawing:
    """Give each tag a number, for where its words find no room."""
    tags = tuple(replace(it, number=str(nth)) for nth, it in enumerate(drawing.tags, 1))
    return replace(drawing, tags=tags)


def _marks(
    drawing: Drawing, section: Section, things: Sequence[dict[str, Any]], colour: str
) -> Iterator[tuple[Circle, Tag]]:
    middle_m = float(section.from_m + section.to_m) / 2
    for thing in things:
        if thing.get("zone") is None:
            continue
        x_m = float(thing.get("chainage_m") or middle_m)
        s_m = _across(thing, drawing.zones)
        if s_m is not None and drawing.x_from_m <= x_m <= drawing.x_to_m:
            yield Circle(x_m, s_m, MARK_M, colour), Tag(_words(thing), x_m, s_m, colour)


def _across(thing: dict[str, Any], zones: Sequence[ZoneBand]) -> float | None:
    """Give where across the drive a thing lies; None where the drawing does not show its zone."""
    if thing.get("s_m") is not None:
        return float(thing["s_m"])
    middles = ((it.s_from_m + it.s_to_m) / 2 for it in zones if it.name == thing["zone"])
    return next(middles, None)


def _words(thing: dict[str, Any]) -> str:
    if thing.get("station") or thing.get("steel"):
        return _read_words(thing)
    grade = thing.get("corrosion_grade")
    said = (
        _(thing.get("part") or thing.get("about") or ""),
        thing.get("severity") or "",
        "" if grade is None else _("rust {n}").format(n=grade),
    )
    return " ".join(filter(None, said))


def _read_words(thing: dict[str, Any]) -> str:
    """Say what was read: "bar 17.5", or the station's name as it is painted there."""
    steel, read_mm = thing.get("steel"), thing.get("read_mm")
    if steel is None:
        return str(thing["station"])
    return " ".join(filter(None, (_(steel), "" if read_mm is None else f"{Decimal(read_mm):f}")))
