"""Placed sheets of mesh that can't be, or that lie otherwise than the mesh was taped."""

from collections import Counter
from collections.abc import Iterable, Iterator
from decimal import Decimal
from itertools import combinations
from typing import Final

from fieldapp.assess.contradictions.contradiction import Contradiction, Stated, once_more
from fieldapp.assess.laps import lap_mm
from fieldapp.assess.mesh.fits import doubted
from fieldapp.assess.mesh.held import plated_along
from fieldapp.assess.mesh.lapped import Lap, is_read, laps_of
from fieldapp.assess.mesh.placed import Placed, box_of, placed_sheets
from fieldapp.assess.mesh.reach import Reach, reach_above_floor, reach_to_face
from fieldapp.assess.seen import Seen
from schemas.bodies.round import LapSeen, LengthReading, SheetLap
from schemas.findings import Place, Verdict
from schemas.numbers import STEP_MM, rounded, text

_COVERAGE: Final = 2
"""Two readings of one thing differ by more than twice their uncertainty once in twenty times."""


def sheets(stated: Stated) -> Iterator[Contradiction]:
    """Compare placed sheets with the drive, with each other, and with what was taped.

    Parameters
    ----------
    stated : Stated
        Sheets, laps, reach, rows and the face. [m]

    Returns
    -------
    iterator of Contradiction
        A sheet that has no area, is larger than any, lies elsewhere or twice, or a lap or reach
        that was stated twice and not alike. [m]

    Source
    ------
    Common practice, no source; twice the uncertainty as in JCGM 100:2008, G.6.6.
    """
    seen = stated.seen
    if not seen.round.sheets:
        return
    laps = laps_of(seen)
    yield from _each(seen)
    yield from _twice(seen)
    yield from _laps_of_nothing(seen)
    for lap in laps:
        yield from _lap_stated_twice(seen, lap)
        yield from _held_by_nothing(seen, lap)
    yield from _reach(seen)


def _again(words: str, check: str = "mesh_cover") -> Contradiction:
    return Contradiction(
        check, Place(words=words), f"place it again: {words}", Verdict.NOT_LOOKED_AT
    )


def _each(seen: Seen) -> Iterator[Contradiction]:
    """Find sheets without an area, told twice, not in this round, or larger than any is."""
    for number, times in Counter(it.number for it in seen.round.sheets).items():
        if times > 1:
            yield _again(f"sheet {number} is written down {times} times")
    for sheet in seen.round.sheets:
        if not box_of(sheet).is_sound:
            yield _again(f"sheet {sheet.number} ends where it begins, or before")
    for placed in placed_sheets(seen):
        words = doubted(seen, placed)
        if words is not None:
            yield _again(words)


def _twice(seen: Seen) -> Iterator[Contradiction]:
    """Find a sheet that lies wholly over another: it covers nothing, and laps can't be told."""
    for one, other in combinations(placed_sheets(seen), 2):
        inner, outer = (other, one) if one.box.holds(other.box) else (one, other)
        if outer.box.holds(inner.box):
            yield _again(f"sheet {inner.number} lies wholly over sheet {outer.number}")


def _laps_of_nothing(seen: Seen) -> Iterator[Contradiction]:
    """Find laps that were read with a sheet that does not lie there."""
    known = {it.number: it for it in placed_sheets(seen)}
    for sheet in known.values():
        for lap in sheet.seen.laps:
            other = known.get(lap.with_sheet)
            if lap.with_sheet and (other is None or not _meet(sheet, other)):
                words = f"sheet {sheet.number} and sheet {lap.with_sheet} don't meet, lap read"
                yield _again(words, "mesh_lap")


def _meet(one: Placed, other: Placed) -> bool:
    common = one.box.common(other.box)
    return (
        one is not other and common.from_m <= common.to_m and common.left_s_m <= common.right_s_m
    )


def _lap_stated_twice(seen: Seen, lap: Lap) -> Iterator[Contradiction]:
    """Find a lap whose edges say otherwise than what was counted or taped."""
    if lap.width_m is None or not lap.edges_read:
        return
    width_mm = lap.width_m * 1000
    for one in _stated_of(seen, lap):
        # What was read from wall to wall is the narrowest: one lap of it may be wider.
        narrower = width_mm < _least_mm(seen, one) - _room_mm(seen, lap, one)
        wider = isinstance(one, SheetLap) and width_mm > _most_mm(seen, one) + _room_mm(
            seen, lap, one
        )
        if is_read(one) and (narrower or wider):
            words = f"{text(rounded(width_mm, STEP_MM))} mm by its edges, {_said(one)} as read"
            place = lap.place.model_copy(update={"words": f"{words}: {lap.words}"})
            settle = f"read again: {lap.words}"
            yield Contradiction("mesh_lap", place, settle, once_more(again=one.again))


def _stated_of(seen: Seen, lap: Lap) -> list[LapSeen | SheetLap]:
    return [*(it for it in seen.round.laps if it.number == lap.number), *lap.read]


def _least_mm(seen: Seen, lap: LapSeen | SheetLap) -> Decimal:
    return _widths_mm(seen, lap)[0]


def _most_mm(seen: Seen, lap: LapSeen | SheetLap) -> Decimal:
    return _widths_mm(seen, lap)[1]


def _widths_mm(seen: Seen, lap: LapSeen | SheetLap) -> tuple[Decimal, Decimal]:
    """Give the widths that a reading can mean: a part of an opening is none."""
    if lap.least_mm is not None:
        return lap.least_mm, lap.least_mm
    mesh = seen.support_class.mesh
    pitch_mm = mesh.pitch_mm if mesh else Decimal(0)
    return lap_mm(lap.openings or 0, pitch_mm), lap_mm((lap.openings or 0) + 1, pitch_mm)


def _room_mm(seen: Seen, lap: Lap, read: LapSeen | SheetLap) -> Decimal:
    u_mm = (lap.u_m + seen.doubts_m[read.method]) * 1000
    return _COVERAGE * u_mm


def _said(lap: LapSeen | SheetLap) -> str:
    if lap.least_mm is not None:
        return f"{text(lap.least_mm)} mm"
    return f"{lap.openings} openings"


def _held_by_nothing(seen: Seen, lap: Lap) -> Iterator[Contradiction]:
    """Find a lap that is said to be held where no row of bolts can meet it."""
    held = any(it.held for it in _stated_of(seen, lap))
    if held and lap.width_m and plated_along(seen, lap) is False:
        words = f"held, and no row of bolts meets it: {lap.words}"
        place = lap.place.model_copy(update={"words": words})
        settle = f"look along it again: {lap.words}"
        yield Contradiction("lap_held", place, settle, Verdict.NOT_LOOKED_AT)


def _reach(seen: Seen) -> Iterator[Contradiction]:
    """Find a reach that was taped otherwise than the sheets end."""
    mesh = seen.round.mesh
    both: Iterable[tuple[LengthReading | None, Reach | None, str]] = (
        (mesh.to_face, reach_to_face(seen), "mesh to the face"),
        (mesh.above_floor, reach_above_floor(seen), "mesh above the floor"),
    )
    for taped, placed, where in both:
        if taped is None or placed is None:
            continue
        room_m = _COVERAGE * (placed.u_m + seen.doubts_m[taped.method])
        if abs(placed.value_m - taped.value_m) > room_m:
            by_sheets = rounded(placed.value_m, Decimal("0.01"))
            words = f"{text(taped.value_m)} m as read, {text(by_sheets)} m by the sheets: {where}"
            settle = f"measure again, or place the sheets again: {where}"
            verdict = once_more(again=taped.again)
            yield Contradiction("mesh_reach", Place(words=words), settle, verdict)
