"""The surveyed profile of rows, taken from a file: touches like any other once it is read.

A file of one outline is of the row that it was chosen for, or of the whole round; one with a
column `row` says which points belong to which row.
"""

import csv
import io
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Final

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from fieldapp.assess.demanded import profile_of, survey_refused
from fieldapp.assess.profile.shapes import crossing_at
from fieldapp.work.questions import Asker
from fieldapp.work.round import RoundWork
from fieldapp.work.rounds import keep_touch
from fieldapp.work.site import Site
from fieldapp.work.touches import AnyTouch, ProfileMeasured, RowAsBroken
from schemas import standard
from schemas.bodies.round import ProfileSeen, SurveyPoint
from schemas.canonical import LARGEST_BYTES
from schemas.numbers import STEP_M, rounded, said_m, text
from schemas.trouble import BadInput

COLUMNS: Final = ("x_m", "y_m")
"""Across, left of the centre line negative looking toward the face; height above the floor."""
ROW: Final = "row"
"""A further column: from the joint, 1 the first."""
FEWEST: Final = 3
MOST_ROWS: Final = 60
MOST: Final = 200
"""As many points as a profile holds."""
NEAR_FLOOR_M: Final = Decimal("0.3")
"""So near the floor a survey has reached it: the last of a wall often lies in muck."""
OTHER_SIZE: Final = 2
"""Times as wide or high as designed, or so many times smaller, is rather another unit."""


@dataclass(eq=False)
class SurveyRefused(BadInput):
    """A file with surveyed points can't be taken."""

    name: str
    reason: str

    happened = "The survey {name} can't be taken: {reason}."
    kept = "Nothing of it was taken."
    do_next = "Put that right in the file and choose it again, or give the width and the rise."


@dataclass(eq=False)
class OtherSize(BadInput):
    """A survey is of another size than the drive: perhaps it is in feet."""

    what: str
    surveyed: str
    designed: str

    happened = "{what} is surveyed {surveyed}, and designed {designed}."
    kept = "Nothing was taken yet; all is as it was."
    do_next = "If the file is in feet, write it in metres and choose it again; else take it."


def take_row_survey(
    site: Site, work: RoundWork, row: int, path: Path, asker: Asker, *, sure: bool = False
) -> RoundWork:
    """Keep what a file says of the profile at a row; `sure`: it is in metres, whatever its size.

    Raises
    ------
    SurveyRefused
        Names the line of the file, where there is one, and the reason.
    OtherSize
        It is twice the size of the drive or half of it, and nobody said that it is in metres.
    """
    designed = work.class_of(row).profile
    found = read_survey(_content(path), path.name, designed, row)
    if not sure:
        _require_size(row, designed, found)
    touch = RowAsBroken(at=asker.at, by=asker.by, row=row, profile=found)
    return keep_touch(site, work, touch)


def take_round_survey(
    site: Site, work: RoundWork, path: Path, asker: Asker, *, sure: bool = False
) -> RoundWork:
    """Keep what a file says of every row that it names; of the whole round, if it names none.

    Raises
    ------
    SurveyRefused, OtherSize
        As of one row; nothing of the file was kept then.
    """
    found = _read_round(_content(path), path.name, work)
    for row, (designed, profile) in () if sure else found.items():
        _require_size(row, designed, profile)
    for row, (_, profile) in found.items():
        work = keep_touch(site, work, _touch(asker, row, profile))
    return work


def read_survey(
    raw: bytes, name: str, designed: standard.Profile, row: int | None = None
) -> ProfileSeen:
    """Read a list (CSV) of points, from the left floor over the back to the right floor.

    Parameters
    ----------
    raw : bytes
        The file.
    name : str
        How it is called.
    designed : standard.Profile
        The drive as the standard has it.
    row : int or None
        Whose points are looked for, where the list says which row each belongs to.

    Raises
    ------
    SurveyRefused
        Names the line of the list, where there is one, and the reason.
    """
    read = _points(raw, name)
    own = [it for it in read if it.row in (None, row)]
    if read and not own:
        raise SurveyRefused(name, f"it has no point of row {row}")
    return _outline(own, name, designed)


# --- inside ---------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Read:
    """A point, the line of the file that it stands in, and whose it is; None: not said."""

    line: int
    row: int | None
    point: SurveyPoint


_OfRows = dict[int | None, tuple[standard.Profile, ProfileSeen]]
"""By row, the whole round's under None: as designed, and as surveyed."""


def _read_round(raw: bytes, name: str, work: RoundWork) -> _OfRows:
    read = _points(raw, name)
    planned = work.seen.rows_planned
    beyond = next((it for it in read if it.row is not None and it.row > planned), None)
    if beyond is not None:
        reason = f"line {beyond.line}, row {beyond.row}, and this round has {planned}"
        raise SurveyRefused(name, reason)
    found: _OfRows = {}
    for row in sorted({it.row for it in read}, key=lambda it: it or 0):
        designed = work.class_of(row or 1).profile
        found[row] = designed, _outline([it for it in read if it.row == row], name, designed)
    if not found:
        raise SurveyRefused(name, "it has no points")
    return found


def _touch(asker: Asker, row: int | None, profile: ProfileSeen) -> AnyTouch:
    if row is None:
        return ProfileMeasured(at=asker.at, by=asker.by, profile=profile)
    return RowAsBroken(at=asker.at, by=asker.by, row=row, profile=profile)


def _outline(read: Sequence[_Read], name: str, designed: standard.Profile) -> ProfileSeen:
    lines, points = [it.line for it in read], tuple(it.point for it in read)
    if len(points) < FEWEST:
        raise SurveyRefused(name, f"it has {len(points)} points, and an outline at least {FEWEST}")
    for line, end, side in ((lines[0], points[0], "left"), (lines[-1], points[-1], "right")):
        if end.z_m > NEAR_FLOOR_M:
            reason = f"line {line}, the {side} end is {text(end.z_m)} m above the floor"
            raise SurveyRefused(name, f"{reason}: survey both walls down to the floor")
    crossing = crossing_at([(float(it.y_m), float(it.z_m)) for it in points])
    if crossing is not None:
        raise SurveyRefused(
            name, f"line {lines[crossing]}, the surveyed line crosses itself there"
        )
    return _profile(points, name, designed)


def _profile(
    points: tuple[SurveyPoint, ...], name: str, designed: standard.Profile
) -> ProfileSeen:
    """Give the points with the width and the rise that they mean."""
    width_m = max(it.y_m for it in points) - min(it.y_m for it in points)
    if not width_m:
        raise SurveyRefused(name, "all its points lie above one another")
    # a profile is read point by point by an instrument that measures by light
    found = ProfileSeen(width_m=width_m, rise_m=Decimal(0), method="laser", points=points)
    refused = survey_refused(designed, found)
    if refused is not None:
        raise SurveyRefused(name, refused)
    outline = profile_of(designed, found)
    rise_m = max(it.z_m for it in points) - Decimal(repr(outline.springline_m))
    return ProfileSeen(
        width_m=rounded(outline.width_m, STEP_M),
        rise_m=rounded(max(rise_m, Decimal(0)), STEP_M),
        method="laser",
        points=points,
    )


def _require_size(row: int | None, designed: standard.Profile, found: ProfileSeen) -> None:
    height_m = max(it.z_m for it in found.points)
    design_m = designed.wall_height_m + designed.rise_m
    for is_m, should_m in ((found.width_m, designed.width_m), (height_m, design_m)):
        if not should_m / OTHER_SIZE < is_m < should_m * OTHER_SIZE:
            raise OtherSize(
                "The round" if row is None else f"Row {row}",
                f"{said_m(found.width_m)} m wide and {said_m(height_m)} m high",
                f"{said_m(designed.width_m)} m wide and {said_m(design_m)} m high",
            )


def _points(raw: bytes, name: str) -> tuple[_Read, ...]:
    try:
        return tuple(_read(raw.decode("utf-8-sig"), name))
    except UnicodeDecodeError as error:
        raise SurveyRefused(name, "it is not UTF-8 text") from error
    except csv.Error as error:
        raise SurveyRefused(name, f"it is no list: {error}") from error


def _read(content: str, name: str) -> Iterator[_Read]:
    reader = csv.DictReader(io.StringIO(content), skipinitialspace=True)
    missing = [it for it in COLUMNS if it not in (reader.fieldnames or ())]
    if missing:
        reason = f"line 1, the column {missing[0]} is missing"
        raise SurveyRefused(name, f"{reason}: it begins with {','.join(COLUMNS)}")
    points: Counter[int | None] = Counter()
    for line_read in reader:
        line = reader.line_num
        if None in line_read:
            reason = f"line {line}, more figures than columns"
            raise SurveyRefused(name, f"{reason}: write 2.5, not 2,5")
        row = _row(line_read, line, name)
        points[row] += 1
        if points[row] > MOST:
            raise SurveyRefused(name, f"line {line}, it has more than {MOST} points")
        yield _Read(line, row, _point(line_read, line, name))


def _row(row: dict[str, str], line: int, name: str) -> int | None:
    """Give the row that a point belongs to; None where the list has no such column."""
    if ROW not in row:
        return None
    said = (row[ROW] or "").strip()
    if not (said.isascii() and said.isdigit()) or not 1 <= int(said) <= MOST_ROWS:
        reason = f'line {line}, row: "{said}" is no row such as 1, the first from the joint'
        raise SurveyRefused(name, reason)
    return int(said)


def _point(row: dict[str, str], line: int, name: str) -> SurveyPoint:
    across, high = ((row[it] or "").strip() for it in COLUMNS)
    try:
        return SurveyPoint.model_validate({"y_m": across, "z_m": high})
    except ValidationError as error:
        wrong = error.errors()[0]
        column, typed = ("x_m", across) if wrong["loc"] == ("y_m",) else ("y_m", high)
        raise SurveyRefused(name, f"line {line}, {column}: {_why(wrong, typed)}") from error


def _why(wrong: ErrorDetails, typed: str) -> str:
    bounds = wrong.get("ctx", {})
    if "le" in bounds:
        return f"{typed} m is more than {bounds['le']} m"
    if "ge" in bounds:
        return f"{typed} m is less than {bounds['ge']} m"
    return f'"{typed}" is no length in metres such as 2.5'


def _content(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            raw = file.read(LARGEST_BYTES + 1)
    except OSError as error:
        raise SurveyRefused(path.name, (error.strerror or "it failed").lower()) from error
    if len(raw) > LARGEST_BYTES:
        raise SurveyRefused(path.name, "it is larger than 4 MB")
    return raw
