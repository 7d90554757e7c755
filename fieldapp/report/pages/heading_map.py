"""Stretches of the unrolled drive with everything that was recorded there, as plain shapes."""

from collections.abc import Iterator
from decimal import Decimal
from math import ceil, floor
from typing import Final

from assets.translate import _
from fieldapp.assess.demanded import profile_of
from fieldapp.assess.seen import borders_of
from fieldapp.report.damage_picture import COLOURS, MARK_M, STEP_M
from fieldapp.report.drive.picture import zone_bands
from fieldapp.report.shapes import (
    Band,
    Bolt,
    BoltState,
    ChainageTick,
    Circle,
    CrossLine,
    Drawing,
    FaceLine,
    Span,
    Tag,
    ZoneBand,
)
from fieldapp.report.words.lengths import Units, line_tick_words, tick_words
from fieldapp.work.reporting.facts import (
    HeadingFacts,
)
from fieldapp.work.reporting.told import (
    BoltTold,
    DamageTold,
)
from schemas.standard import SupportClass

LONG_M: Final = 20
"""Of one stretch."""
AROUND_M: Final = 1.2
Zones = tuple[ZoneBand, ...]


def heading_maps(facts: HeadingFacts, units: Units) -> Iterator[Drawing]:
    """Draw every stretch on which something was recorded, from the face outbye."""
    support = facts.support
    if support is not None:
        for number in sorted(_numbers(facts), reverse=True):
            yield _drawn(facts, support, number * LONG_M, units)


def _recorded(facts: HeadingFacts) -> list[tuple[Decimal, Decimal]]:
    """Give the stretches of which something was recorded."""
    ends = [(it.joint_m, it.last_row_m) for it in facts.rounds]
    ends += [(it.from_m, it.to_m) for it in facts.damages]
    return ends + [(it.from_m, it.to_m) for it in facts.repairs]


def _numbers(facts: HeadingFacts) -> set[int]:
    """Give which stretches there are, counted from the heading's origin."""
    return {
        number
        for from_m, to_m in _recorded(facts)
        for number in range(floor(from_m / LONG_M), floor(to_m / LONG_M) + 1)
    }


def _ends(facts: HeadingFacts, begins_m: int) -> tuple[float, float]:
    """Give what of a stretch is drawn: what was recorded there, and a little more."""
    ends_m = begins_m + LONG_M
    there = [
        (max(from_m, Decimal(begins_m)), min(to_m, Decimal(ends_m)))
        for from_m, to_m in _recorded(facts)
        if from_m <= ends_m and to_m >= begins_m
    ]
    low, high = min(it[0] for it in there), max(it[1] for it in there)
    face_m = facts.heading.entry.face_m
    high = max(high, face_m) if begins_m <= face_m <= ends_m else high
    return max(begins_m, float(low) - AROUND_M), min(ends_m, float(high) + AROUND_M)


def _drawn(facts: HeadingFacts, support: SupportClass, begins_m: int, units: Units) -> Drawing:
    profile = profile_of(support.profile, None)
    left, right = profile.floor_s_m
    zones = tuple(zone_bands(borders_of(support, profile), left, right))
    face_m = float(facts.heading.entry.face_m)
    from_m, to_m = _ends(facts, begins_m)
    damages = [it for it in facts.damages if _is_on(it.from_m, it.to_m, from_m, to_m)]
    bolts = [it for it in _uppermost(facts) if from_m <= it.chainage_m < to_m]
    return Drawing(
        x_from_m=from_m,
        x_to_m=to_m,
        s_from_m=left,
        s_to_m=right,
        zones=zones,
        bands=tuple(_bands(facts, from_m, to_m)),
        ticks=tuple(
            ChainageTick(it, tick_words(Decimal(it), units))
            for it in range(ceil(from_m), floor(to_m) + 1)
            if it % STEP_M == 0
        ),
        lines=tuple(_lines(facts, (from_m, to_m), units)),
        face=FaceLine(((face_m, left), (face_m, right))) if from_m <= face_m <= to_m else None,
        bolts=tuple(map(_bolt, bolts)),
        circles=tuple(_circle(it, zones) for it in damages),
        spans=tuple(_spans(damages, zones)),
        tags=tuple(_tag(it, zones) for it in damages),
        notes=(_("where nothing is drawn, nothing was recorded"),),
        units=units,
    )


def _uppermost(facts: HeadingFacts) -> Iterator[BoltTold]:
    """Give the bolts that count: none of a layer that new support was put up over since."""
    over = [it for it in facts.rounds if it.over_old and it.decision == "accepted"]
    for one in facts.rounds:
        later = [it for it in over if it.recorded_at > one.recorded_at]
        for bolt in one.bolts:
            if not any(it.joint_m < bolt.chainage_m <= it.last_row_m for it in later):
                yield bolt


def _is_on(begins_m: Decimal, ends_m: Decimal, from_m: float, to_m: float) -> bool:
    return float(begins_m) < to_m and float(ends_m) >= from_m


def _bands(facts: HeadingFacts, from_m: float, to_m: float) -> Iterator[Band]:
    for it in (lap for one in facts.rounds for lap in one.laps):
        half, middle = float(it.width_m) / 2, float(it.middle_m)
        if from_m <= middle - half and middle + half <= to_m:
            yield Band(
                x_from_m=middle - half,
                x_to_m=middle + half,
                s_from_m=float(it.left_s_m),
                s_to_m=float(it.right_s_m),
                number=it.number,
                colour="quiet",
                read=it.read,
            )


def _lines(facts: HeadingFacts, ends: tuple[float, float], units: Units) -> Iterator[CrossLine]:
    for it in facts.rounds:
        if ends[0] <= it.joint_m < ends[1]:
            yield CrossLine("joint", float(it.joint_m))
    line_m = facts.heading.entry.line_m
    if ends[0] <= line_m <= ends[1]:
        words = _("to {line}").format(line=line_tick_words(line_m, units))
        yield CrossLine("entry line", float(line_m), words)


def _bolt(it: BoltTold) -> Bolt:
    return Bolt(
        x_m=float(it.chainage_m),
        s_m=float(it.s_m),
        state=_state(it),
        row=None,
        position=it.position,
        old=True,
        assumed=it.placed == "as standard",
    )


def _state(it: BoltTold) -> BoltState:
    if it.state != "present":
        return it.state
    if it.plate_seated is False:
        return "loose"
    if not it.counts:
        return "not counting"
    if it.plate_seated is None:
        return "not looked at"
    return "assumed" if it.placed == "as standard" else "seated"


def _place(it: DamageTold, zones: Zones) -> tuple[float, float]:
    middle_m = float(it.from_m + it.to_m) / 2
    if it.s_m is not None:
        return middle_m, float(it.s_m)
    middles = ((zone.s_from_m + zone.s_to_m) / 2 for zone in zones if zone.name == it.zone)
    return middle_m, next(middles, 0.0)


def _colour(it: DamageTold) -> str:
    return "quiet" if it.outcome == "restored" else COLOURS[it.holds]


def _circle(it: DamageTold, zones: Zones) -> Circle:
    return Circle(*_place(it, zones), MARK_M, _colour(it), of="damage")


def _spans(damages: list[DamageTold], zones: Zones) -> Iterator[Span]:
    for it in damages:
        if it.from_m != it.to_m:
            yield Span(float(it.from_m), float(it.to_m), _place(it, zones)[1], _colour(it))


def _tag(it: DamageTold, zones: Zones) -> Tag:
    said = _("restored") if it.outcome == "restored" else it.priority or "P?"
    return Tag(f"{said} {_(it.kind)}", *_place(it, zones), _colour(it))
