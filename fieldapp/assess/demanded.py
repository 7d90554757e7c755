"""What a support class demands of one round as it was really broken: rows, laps, places.

Both what the tablet asks and what the checks judge start from here, so they can't differ.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import Final

from fieldapp.assess.pattern import (
    DemandedRow,
    LastOldRow,
    Pattern,
    bolts_in_row,
    demanded_rows,
    positions_s_m,
)
from fieldapp.assess.profile.outline import Point
from fieldapp.assess.profile.profile import Profile, ProfileRefused, SupportedLine, supported_line
from fieldapp.assess.profile.shapes import (
    designed_arch_profile,
    flat_back_profile,
    measured_arch_profile,
    surveyed_profile,
)
from schemas import standard
from schemas.bodies.round import OldRow, ProfileSeen, Round
from schemas.bundle import Bundle
from schemas.standard import SupportClass
from schemas.trouble import BadInput

_ROUGH_M: Final = 0.3
"""So far walls as broken lean or bulge, and are walls."""


@dataclass(eq=False)
class UnknownSupportClass(BadInput):
    """The round names a support class that its standard doesn't have."""

    code: str
    standard: str
    happened = "{standard} has no support class {code}."
    kept = "The round is on this tablet as it is."
    do_next = "Choose the support class of this heading again."


@lru_cache(maxsize=64)
def profile_of(designed: standard.Profile, seen: ProfileSeen | None) -> Profile:
    """Give the drive's outline: as measured where it was measured, else as designed.

    Parameters
    ----------
    designed : Profile
        The class's profile. [m]
    seen : ProfileSeen or None
        Surveyed points, or width and rise as broken; walls stay as designed. [m]

    Returns
    -------
    Profile
        The outline that positions and lengths lie on; a survey that is no outline counts for
        nothing, its width and rise do. [m]

    Source
    ------
    Common practice, no source.
    """
    wall = float(designed.wall_height_m)
    if seen is not None and seen.points and survey_refused(designed, seen) is None:
        return _surveyed(designed, seen)
    if seen is not None and designed.shape == "arch":
        return measured_arch_profile(float(seen.width_m), wall, float(seen.rise_m))
    if designed.shape == "arch":
        return designed_arch_profile(float(designed.width_m), wall, float(designed.rise_m))
    width = designed.width_m if seen is None else seen.width_m
    return flat_back_profile(float(width), wall + (0.0 if seen is None else float(seen.rise_m)))


@lru_cache(maxsize=64)
def survey_refused(designed: standard.Profile, seen: ProfileSeen) -> str | None:
    """Say why surveyed points are no outline that this class can be laid out on.

    Parameters
    ----------
    designed : Profile
        The class's profile: from where it is supported, and how high its walls are. [m]
    seen : ProfileSeen
        A profile with surveyed points. [m]

    Returns
    -------
    str or None
        The reason, for a person; None for a sound survey. [-]

    Source
    ------
    Common practice, no source.
    """
    from_floor = float(designed.supported_from_m)
    try:
        profile = _surveyed(designed, seen)
        supported_line(profile, from_floor, from_floor)
        supported_line(profile, profile.springline_m, profile.springline_m)
    except ProfileRefused as refused:
        return refused.reason
    return None


def _surveyed(designed: standard.Profile, seen: ProfileSeen) -> Profile:
    points = [(float(it.y_m), float(it.z_m)) for it in seen.points]
    return surveyed_profile(points, _springline_m(designed, points))


def _springline_m(designed: standard.Profile, points: Sequence[Point]) -> float:
    """Give where surveyed walls end: as designed under an arch, else at their own tops."""
    wall = float(designed.wall_height_m)
    if designed.shape == "arch" and max(z for _, z in points) > wall:
        return wall
    edges = (min(y for y, _ in points), max(y for y, _ in points))
    tops = (max(z for y, z in points if abs(y - edge) <= _ROUGH_M) for edge in edges)
    return min(wall, *tops)


def line_of(support_class: standard.SupportClass, seen: ProfileSeen | None) -> SupportedLine:
    """Give the line along the rock that a row has to support.

    Parameters
    ----------
    support_class : SupportClass
        The class in force. [m]
    seen : ProfileSeen or None
        The profile as broken. [m]

    Returns
    -------
    SupportedLine
        From the lower end on the left wall to that on the right. [m]

    Source
    ------
    Common practice, no source.
    """
    from_floor = float(support_class.profile.supported_from_m)
    return supported_line(profile_of(support_class.profile, seen), from_floor, from_floor)


def rows_demanded(support_class: standard.SupportClass, seen: Round) -> tuple[DemandedRow, ...]:
    """Lay out rows 1, 2, … of a round, going on from its last old row.

    Parameters
    ----------
    support_class : SupportClass
        The class in force. [m]
    seen : Round
        The round: its joint, its number of rows, its measured profiles. [m]

    Returns
    -------
    tuple of DemandedRow
        Chainages are those of the standard's row spacing. [m]

    Source
    ------
    Common practice, no source.
    """
    numbers = range(1, seen.rows_planned + 1)
    lines = [line_of(support_class, seen.profile_at(number)) for number in numbers]
    last = seen.old_rows[-1] if seen.old_rows else None
    joint = LastOldRow(float(seen.joint_m), bool(last and last.staggered))
    return demanded_rows(pattern_of(support_class), lines, joint, float(seen.joint_m))


def rows_as_designed(support_class: standard.SupportClass, rows: int) -> tuple[DemandedRow, ...]:
    """Lay out so many rows of a class on its designed profile, from chainage 0 on.

    Parameters
    ----------
    support_class : SupportClass
        The class; it may be one that is still being written. [m]
    rows : int
        How many. [-]

    Returns
    -------
    tuple of DemandedRow
        The pattern as a drawing of the class shows it. [m]

    Source
    ------
    Common practice, no source.
    """
    lines = [line_of(support_class, None)] * rows
    return demanded_rows(pattern_of(support_class), lines, None, 0.0)


def old_row_demanded(
    support_class: standard.SupportClass, row: OldRow, before: ProfileSeen | None = None
) -> DemandedRow:
    """Lay out one old row as the class demands it.

    Parameters
    ----------
    support_class : SupportClass
        The class in force. [m]
    row : OldRow
        Its chainage, and whether it is an offset row. [m]
    before : ProfileSeen or None
        The profile as broken there, see `profile_before`. [m]

    Returns
    -------
    DemandedRow
        Numbered 0: it belongs to the round before. [m]

    Source
    ------
    Common practice, no source.
    """
    line = line_of(support_class, before)
    pattern = pattern_of(support_class)
    full = bolts_in_row(
        Decimal(repr(line.length_m)).quantize(Decimal("0.001")),
        pattern.spacing_m,
        pattern.tolerance_m,
        pattern.on_sheet,
    )
    places = positions_s_m(line, full, offset=row.staggered)
    return DemandedRow(0, float(row.chainage_m), row.staggered, places)


def class_before(bundle: Bundle, chainage_m: Decimal) -> tuple[standard.Standard, SupportClass]:
    """Give the class that an old row was put in by, and the revision of the standard.

    Parameters
    ----------
    bundle : Bundle
        The round, the one before it, and both standards. [various]
    chainage_m : Decimal
        Of the old row. [m]

    Returns
    -------
    tuple of (Standard, SupportClass)
        That of its ground domain in the round before; the round's own where nobody knows the
        round before, or its standard has no such class. [various]

    Raises
    ------
    UnknownSupportClass
        Neither has the standard the round's own class.

    Source
    ------
    Common practice, no source.
    """
    before = bundle.previous_round
    if before is not None:
        shown = bundle.previous_standard or bundle.standard
        found = shown.support_class(class_at(before, chainage_m))
        if found is not None:
            return shown, found
    own = bundle.standard.support_class(bundle.round.support_class)
    if own is None:
        raise UnknownSupportClass(bundle.round.support_class, bundle.standard.name)
    return bundle.standard, own


def class_at(seen: Round, chainage_m: Decimal) -> str:
    """Give the code of the class that a round's ground was supported by at a chainage.

    Parameters
    ----------
    seen : Round
        The round, of one ground domain or of two. [m]
    chainage_m : Decimal
        Of a row. [m]

    Returns
    -------
    str
        A row just where the second domain begins still stands in the first. [-]

    Source
    ------
    Common practice, no source.
    """
    second = seen.second_domain
    if second is None or chainage_m <= second.from_m:
        return seen.support_class
    return second.support_class


def profile_before(before: Round | None, row: OldRow) -> ProfileSeen | None:
    """Give the profile as broken at an old row: that of the row of its round nearest to it.

    Parameters
    ----------
    before : Round or None
        The round before; None where nobody knows it. [m]
    row : OldRow
        One of its last rows. [m]

    Returns
    -------
    ProfileSeen or None
        None where it was not measured: as designed. [m]

    Source
    ------
    Common practice, no source.
    """
    if before is None:
        return None
    at_m, apart_m = before.joint_m, dict[int, Decimal]()
    for seen in before.rows:
        at_m += seen.ahead_of_row_before.value_m if seen.ahead_of_row_before else 0
        apart_m[seen.number] = abs(at_m - row.chainage_m)
    nearest = min(apart_m, key=lambda number: apart_m[number], default=0)
    return before.profile_at(nearest)


def laps_demanded(support_class: standard.SupportClass, rows: int) -> int:
    """Count the laps across the drive that a round of so many rows shows.

    Parameters
    ----------
    support_class : SupportClass
        The class in force. [mm]
    rows : int
        Rows in the round. [-]

    Returns
    -------
    int
        The lap with the old mesh at the joint, and one for each further sheet; 0 where the
        class demands no laps. [-]

    Source
    ------
    Common practice, no source: a sheet advances by its size less the lap.
    """
    mesh, lap = support_class.mesh, support_class.limits.mesh_lap
    if mesh is None or lap is None:
        return 0
    advance_m = mesh.along_drive_m - lap.at_least_mm / 1000
    return max(1, math.ceil(support_class.pattern.row_spacing_m * rows / advance_m))


def pattern_of(support_class: standard.SupportClass) -> Pattern:
    """Give what the class says about spacing.

    Parameters
    ----------
    support_class : SupportClass
        The class in force. [m]

    Returns
    -------
    Pattern
        Spacings, the tolerance within a row, and the count on the sheet. [m]

    Source
    ------
    Common practice, no source.
    """
    pattern = support_class.pattern
    return Pattern(
        staggered=pattern.kind == "staggered",
        spacing_m=pattern.bolt_spacing_m,
        row_spacing_m=pattern.row_spacing_m,
        tolerance_m=pattern.bolt_spacing_tolerance_m,
        on_sheet=pattern.bolts_per_row,
    )
