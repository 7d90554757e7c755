"""The unrolled drive on a round sheet, with the facts of the round beside or above it."""

from fieldapp.report.paint.frame import Margins
from fieldapp.report.paint.panel import DrivePanel, drive_panel
from fieldapp.report.pens.pdf import PdfPen
from fieldapp.report.round_sheet.blocks import (
    EDGE_MM,
    SMALLEST_PT,
    Block,
    Density,
    RoundSheet,
    paint_stack,
    stacked_mm,
)
from fieldapp.report.round_sheet.facts import facts_across, facts_down, facts_flowing
from fieldapp.report.round_sheet.foot import not_seen_beside
from fieldapp.report.shapes import Drawing

FACTS_MM = 43.0
WORDS_MM = 92.0
GUTTER_MM = 3.5
APART_MM = 3.0
BESIDE_FACTS = Margins(left_mm=11.0, right_mm=19.0)


def drive_block(
    sheet: RoundSheet, drawing: Drawing, density: Density, room_mm: float
) -> Block | None:
    """Give the drive and the facts within a height; None where that is too little for them."""
    if density.around == "facts above":
        return _below_facts(sheet, drawing, density, room_mm)
    if density.around == "facts beside":
        return _beside(sheet, drawing, density, (facts_down(sheet, FACTS_MM), FACTS_MM, room_mm))
    words = [facts_flowing(sheet, WORDS_MM), not_seen_beside(sheet, SMALLEST_PT, WORDS_MM)]
    left = Block(
        stacked_mm(words, APART_MM), lambda pen, top: paint_stack(pen, words, top, APART_MM)
    )
    return _beside(sheet, drawing, density, (left, WORDS_MM, max(room_mm, left.high_mm)))


def _below_facts(
    sheet: RoundSheet, drawing: Drawing, density: Density, room_mm: float
) -> Block | None:
    facts = facts_across(sheet)
    room = (sheet.wide_mm, room_mm - facts.high_mm - APART_MM)
    panel = drive_panel(drawing, (EDGE_MM, 0.0), room)
    if not _is_fit(panel, density, room[1]):
        return None

    def paint(pen: PdfPen, top: float) -> None:
        facts.paint(pen, top)
        drive_panel(drawing, (EDGE_MM, top + facts.high_mm + APART_MM), room).paint(pen)

    return Block(facts.high_mm + APART_MM + panel.high_mm, paint)


def _beside(
    sheet: RoundSheet, drawing: Drawing, density: Density, left: tuple[Block, float, float]
) -> Block | None:
    words, wide_mm, room_mm = left
    x = EDGE_MM + wide_mm + GUTTER_MM
    room = (sheet.wide_mm - wide_mm - GUTTER_MM, room_mm)
    panel = drive_panel(drawing, (x, 0.0), room, BESIDE_FACTS)
    if words.high_mm > room_mm or not _is_fit(panel, density, room_mm):
        return None

    def paint(pen: PdfPen, top: float) -> None:
        words.paint(pen, top)
        drive_panel(drawing, (x, top), room, BESIDE_FACTS).paint(pen)

    return Block(max(words.high_mm, panel.high_mm), paint)


def _is_fit(panel: DrivePanel, density: Density, room_mm: float) -> bool:
    return panel.high_mm <= room_mm and panel.frame.scale <= density.drive_to
