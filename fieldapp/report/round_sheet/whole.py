"""The round sheet: one round on one page, for the wall, the file and the next shift.

It is set as large as its content allows. Where everything doesn't fit at the smallest
letters, the accepted findings are counted instead of listed, then the last of the fix list;
only then findings that are not accepted, and it says how many.
"""

from bisect import bisect_left
from dataclasses import dataclass, replace

from assets.translate import _
from fieldapp.report.colours import PAPER
from fieldapp.report.drive.picture import drive_picture
from fieldapp.report.pens.pdf import A4, LETTER, PdfPen
from fieldapp.report.round_sheet.accepted import accepted_list
from fieldapp.report.round_sheet.blocks import (
    EDGE_MM,
    SMALLEST_PT,
    Block,
    Density,
    RoundSheet,
    nothing,
    paint_stack,
    stacked_mm,
)
from fieldapp.report.round_sheet.decision import decision
from fieldapp.report.round_sheet.drive import drive_block
from fieldapp.report.round_sheet.findings import findings_table
from fieldapp.report.round_sheet.foot import fix_list, foot, not_seen
from fieldapp.report.round_sheet.head import head
from fieldapp.report.round_sheet.load import load_page
from fieldapp.report.shapes import Drawing
from fieldapp.report.words.findings import told

__all__ = ["A4", "LETTER", "RoundSheet", "round_sheet"]

DENSITIES = (
    Density(9.0, 75, "facts above"),
    Density(9.0, 100, "facts above"),
    Density(9.0, 100, "facts beside"),
    Density(8.5, 100, "facts beside"),
    Density(8.5, 100, "facts beside", flowing=True),
    Density(8.0, 125, "facts beside", flowing=True),
    Density(8.0, 125, "facts beside", flowing=True, in_two=True),
    Density(7.5, 150, "facts beside", flowing=True, in_two=True),
    Density(SMALLEST_PT, 250, "words beside", flowing=True, in_two=True),
    Density(SMALLEST_PT, 400, "words beside", flowing=True, in_two=True, lines_each=2),
)
CLOSEST = (
    DENSITIES[-1],
    Density(SMALLEST_PT, 1000, "words beside", flowing=True, in_two=True, lines_each=1),
)
"""Where the lists have to be cut: first the accepted and the jobs, then lines of findings."""

APART_MM = 3.4
CLOSEST_APART_MM = 1.8
LEAST_DRIVE_MM = 50.0
"""No smaller is the drive drawn, whatever else there is to say."""


@dataclass(frozen=True)
class _Shown:
    """How much of each list is printed; None is all of it."""

    accepted: int | None = None
    jobs: int | None = None
    findings: int | None = None


def round_sheet(sheet: RoundSheet) -> bytes:
    """Print the sheet of a round as a PDF of one page, of two with its load map.

    The same sheet gives the same bytes.
    """
    with PdfPen(sheet.paper, PAPER, _title(sheet), sheet.printed_at) as pen:
        if sheet.demo:
            pen.write_across(_("DEMO · WORKED EXAMPLE"))
        below = foot(sheet)
        foot_top = sheet.paper.high_mm - EDGE_MM - below.high_mm
        blocks, apart_mm = _fitting(sheet, foot_top - EDGE_MM - CLOSEST_APART_MM)
        paint_stack(pen, blocks, EDGE_MM, apart_mm)
        below.paint(pen, foot_top)
        if sheet.load:
            load_page(pen, sheet)
        return pen.output()


def _title(sheet: RoundSheet) -> str:
    return f"{sheet.bundle.heading.name}, {sheet.bundle.round.name}"


def _fitting(sheet: RoundSheet, room_mm: float) -> tuple[list[Block], float]:
    """Give the blocks at the largest letters at which all of them fit."""
    drawing = drive_picture(
        sheet.bundle, sheet.assessment, entry_line_m=sheet.entry_line_on_map_m, units=sheet.units
    )
    for density in DENSITIES:
        above, below = _head(sheet), _lists(sheet, density, _Shown())
        left_mm = room_mm - stacked_mm([*above, *below], APART_MM) - APART_MM
        drive = drive_block(sheet, drawing, density, left_mm)
        if drive is not None and drive.high_mm <= left_mm:
            return [*above, drive, *below], APART_MM
    return _cut_short(sheet, drawing, room_mm), CLOSEST_APART_MM


def _cut_short(sheet: RoundSheet, drawing: Drawing, room_mm: float) -> list[Block]:
    """Leave out what matters least, and no more of it than has to be."""
    blocks: list[Block] = []
    for density in CLOSEST:
        drive = drive_block(sheet, drawing, replace(density, drive_to=1000), LEAST_DRIVE_MM)
        above = [*_head(sheet), *([drive] if drive else [])]
        left_mm = room_mm - stacked_mm(above, CLOSEST_APART_MM) - CLOSEST_APART_MM
        shown = _most_that_fits(sheet, density, left_mm)
        blocks = [*above, *_lists(sheet, density, shown or _Shown(0, 0, 0))]
        if shown:
            break
    return blocks


def _most_that_fits(sheet: RoundSheet, density: Density, room_mm: float) -> _Shown | None:
    """Find how much can be shown; a step is never higher than the one before it."""

    def fits(shown: _Shown) -> bool:
        return stacked_mm(_lists(sheet, density, shown), CLOSEST_APART_MM) <= room_mm

    jobs = len(sheet.assessment.fix_list)
    steps = [_Shown(), *(_Shown(0, job) for job in range(jobs, -1, -1))]
    if density is CLOSEST[-1]:
        not_accepted = sum(told(finding) for finding in sheet.assessment.findings)
        steps += [_Shown(0, 0, number) for number in range(not_accepted - 1, -1, -1)]
    first = bisect_left(steps, x=True, key=fits)
    return steps[first] if first < len(steps) else None


def _head(sheet: RoundSheet) -> list[Block]:
    return [head(sheet), decision(sheet)]


def _lists(sheet: RoundSheet, density: Density, shown: _Shown) -> list[Block]:
    size_pt = min(8.5, density.size_pt)
    said_beside = density.around == "words beside"
    return [
        findings_table(sheet, density, shown.findings),
        fix_list(sheet, size_pt, shown.jobs),
        nothing() if said_beside else not_seen(sheet, min(8.0, size_pt)),
        accepted_list(sheet, density, shown.accepted),
    ]
