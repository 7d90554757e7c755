"""Who recorded a round, when, on what; its crew, bolts and ground: in three shapes of room."""

from assets.translate import _
from fieldapp.assess.known_face import face_read_m
from fieldapp.report.pens.pdf import PdfPen
from fieldapp.report.pens.pen import Point, Type
from fieldapp.report.round_sheet.blocks import EDGE_MM, SMALLEST_PT, Block, RoundSheet
from fieldapp.report.set_text import broken, line_mm, set_line, set_lines
from fieldapp.report.words.findings import BETWEEN, decimal_words
from fieldapp.report.words.lengths import chainage_words, in_units

COLUMNS = 4
GUTTER_MM = 4.0
LABEL = Type(SMALLEST_PT, colour="quiet")
VALUE = Type(8.0)

Cell = tuple[str, list[str]]


def facts_across(sheet: RoundSheet) -> Block:
    """Give the facts in columns across the sheet."""
    room = (sheet.wide_mm - (COLUMNS - 1) * GUTTER_MM) / COLUMNS
    cells = _cells(sheet, room)
    rows = [cells[start : start + COLUMNS] for start in range(0, len(cells), COLUMNS)]
    heights = [max(_cell_mm(cell) for cell in row) for row in rows]

    def paint(pen: PdfPen, top: float) -> None:
        for row, high in zip(rows, heights, strict=True):
            for number, cell in enumerate(row):
                _paint(pen, cell, (EDGE_MM + number * (room + GUTTER_MM), top))
            top += high

    return Block(sum(heights), paint)


def facts_down(sheet: RoundSheet, room_mm: float) -> Block:
    """Give the facts below each other at the left edge."""
    cells = _cells(sheet, room_mm)

    def paint(pen: PdfPen, top: float) -> None:
        for cell in cells:
            _paint(pen, cell, (EDGE_MM, top))
            top += _cell_mm(cell)

    return Block(sum(_cell_mm(cell) for cell in cells), paint)


def facts_flowing(sheet: RoundSheet, room_mm: float) -> Block:
    """Give the facts as one paragraph at the left edge, where there is little room."""
    kind = Type(SMALLEST_PT)
    said = BETWEEN.join(f"{label}: {value}" for label, value in _facts_said(sheet))
    lines = broken(said, kind, room_mm)

    def paint(pen: PdfPen, top: float) -> None:
        set_lines(pen, lines, (EDGE_MM, top), kind)

    return Block(len(lines) * line_mm(kind.size_pt), paint)


def facts(sheet: RoundSheet) -> list[tuple[str, str]]:
    """Name the facts; what nobody recorded is said to be so."""
    seen, bolter = sheet.bundle.round, sheet.bundle.round.bolter
    length = in_units(decimal_words(bolter.bolt_length_m, "m", nothing=""), sheet.units)
    bolt = " ".join(part for part in (bolter.bolt_type or "not recorded", length) if part)
    finished = bolter.bolting_finished_at
    bolted_by = [*((bolter.crew,) if bolter.crew else ()), *sheet.installers]
    return [
        ("Recorded by", f"{sheet.recorded_by}, {sheet.time(sheet.recorded_at)}"),
        ("On tablet", sheet.tablet),
        ("Bolting finished", sheet.time(finished) if finished else "not recorded"),
        ("Judged as at", sheet.time(sheet.assessment.as_at)),
        ("Installed by", ", ".join(bolted_by) or "not recorded"),
        ("Bolts", f"{bolt} ({bolter.basis})" if bolter.basis else bolt),
        ("Batches", ", ".join(bolter.batches or ()) or "not recorded"),
        ("Ground", seen.ground.condition if seen.ground else "not looked at"),
        *_nearer(sheet),
    ]


def _nearer(sheet: RoundSheet) -> list[tuple[str, str]]:
    """Say why the face was read nearer than it was known to be, where somebody said so."""
    said = sheet.bundle.round.face_nearer
    if said is None or said.read_m != face_read_m(sheet.bundle.round):
        return []
    known = chainage_words(said.known_m, sheet.units)
    return [("Face", f"not at {known}: {said.why}")]


def _facts_said(sheet: RoundSheet) -> list[tuple[str, str]]:
    return [(_(label), _(value)) for label, value in facts(sheet)]


def _cells(sheet: RoundSheet, room_mm: float) -> list[Cell]:
    return [
        (label, broken(value, VALUE, room_mm, at_most=3)) for label, value in _facts_said(sheet)
    ]


def _cell_mm(cell: Cell) -> float:
    return line_mm(LABEL.size_pt) + len(cell[1]) * line_mm(VALUE.size_pt) + 0.9


def _paint(pen: PdfPen, cell: Cell, corner: Point) -> None:
    label, lines = cell
    set_line(pen, label, corner, LABEL)
    set_lines(pen, lines, (corner[0], corner[1] + line_mm(LABEL.size_pt)), VALUE)
