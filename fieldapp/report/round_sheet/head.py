"""The head of a round sheet: which mine, heading and round, and the code of the sheet."""

from assets.translate import _, counted
from fieldapp.report.drive.picture import last_row_m
from fieldapp.report.letters import cut, width_mm
from fieldapp.report.pens.pdf import PdfPen
from fieldapp.report.pens.pen import Type
from fieldapp.report.round_sheet.blocks import EDGE_MM, SMALLEST_PT, Block, RoundSheet
from fieldapp.report.set_text import broken, line_mm, set_line
from fieldapp.report.square_code import paint_square_code, quiet_zone_mm
from fieldapp.report.words.read_and_today import round_span_words

CODE_MM = 24.5
CODE_COLUMN_MM = 37.0
HEAD_MM = 27.5


def head(sheet: RoundSheet) -> Block:
    """Give the mine, the heading, the round and its chainages, and the code of the sheet."""
    return Block(HEAD_MM, lambda pen, top: _paint_head(sheet, pen, top))


def _paint_head(sheet: RoundSheet, pen: PdfPen, top: float) -> None:
    room = sheet.wide_mm - CODE_COLUMN_MM
    kind = "Round sheet of a worked example" if sheet.demo else "Round sheet"
    set_line(pen, f"{_(kind)} · {sheet.mine}", (EDGE_MM, top - 0.6), Type(9.0, colour="quiet"))
    lines, strong = _name(sheet.bundle.heading.name, room)
    under = top + 12.4 - (len(lines) - 1) * line_mm(strong.size_pt)
    for number, line in enumerate(lines):
        pen.write(line, (EDGE_MM, under + number * line_mm(strong.size_pt)), strong)
    set_line(pen, _round_words(sheet), (EDGE_MM, top + 15.2), Type(12.0))
    quiet = Type(9.0, colour="quiet")
    set_line(pen, cut(_standard_words(sheet), 9.0, room), (EDGE_MM, top + 21.8), quiet)
    paint_code(sheet, pen, top)


def _name(name: str, room: float) -> tuple[list[str], Type]:
    """Set the heading's name as large as it goes on one line, else small on two."""
    for size_pt in (22.0, 18.0, 15.0):
        if width_mm(name, size_pt, bold=True) <= room:
            return [name], Type(size_pt, bold=True)
    kind = Type(12.0, bold=True)
    return broken(name, kind, room, at_most=2), kind


def _round_words(sheet: RoundSheet) -> str:
    seen = sheet.bundle.round
    span = round_span_words(
        sheet.bundle.heading, seen, last_row_m(sheet.bundle), sheet.units, " to "
    )
    name = _("Re-support {number}") if seen.over else _("Round {number}")
    rows = counted("{} row", "{} rows", seen.rows_planned)
    return f"{name.format(number=seen.number)} · {_(span)} · {rows}"


def _standard_words(sheet: RoundSheet) -> str:
    heading, standard = sheet.bundle.heading, sheet.bundle.standard
    level = _("Level {level}").format(level=heading.level) + " · " if heading.level else ""
    seen = sheet.bundle.round
    said = _("class {code}").format(code=seen.class_said)
    if seen.second_domain is not None:
        said = f"{said} ({_(seen.second_domain.told_by)})"
    return f"{level}{standard.name}, {said}: {sheet.support_class.title}"


def paint_code(sheet: RoundSheet, pen: PdfPen, top: float) -> None:
    """Paint the square code at the right edge, and below it the same in groups to type."""
    right = EDGE_MM + sheet.wide_mm
    quiet_mm = quiet_zone_mm(CODE_MM)
    # The quiet zone reaches into the margin: the symbol itself stands flush with the text.
    corner = (right - CODE_MM + quiet_mm, top - quiet_mm)
    paint_square_code(pen, sheet.code.payload, corner, CODE_MM)
    groups = sheet.code.readable.split("-")
    for number, line in enumerate(("-".join(groups[:2]), "-".join(groups[2:]))):
        place = (right, top + CODE_MM - quiet_mm + number * line_mm(SMALLEST_PT))
        set_line(pen, line, place, Type(SMALLEST_PT, align="right"))
