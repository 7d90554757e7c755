"""The lower part of a round sheet: what to do, what nobody saw, and what the sheet is not."""

from assets.translate import _
from fieldapp.report.pens.pdf import PdfPen
from fieldapp.report.pens.pen import Line, Point, Type, box
from fieldapp.report.round_sheet.blocks import (
    EDGE_MM,
    SMALLEST_PT,
    Block,
    RoundSheet,
    nothing,
    titled,
    with_more,
)
from fieldapp.report.round_sheet.columns import even_split
from fieldapp.report.set_text import broken, line_mm, set_line, set_lines
from fieldapp.report.words.findings import counted, not_looked_at, sentence
from fieldapp.report.words.work import went_beyond, work_words

CAUTIONS = (
    "Stay under supported ground. Bar down first.",
    "A barricade or sign in the heading outranks this sheet.",
    "It records and compares; it does not make ground safe. The mine's standard, local law and "
    "a qualified geotechnical engineer decide.",
)
"""Fixed lines: the same on every sheet."""

TICK_BOX_MM = 2.4
INDENT_MM = 4.4
JOB_APART_MM = 0.6
GUTTER_MM = 5.0


def fix_list(sheet: RoundSheet, size_pt: float, shown: int | None = None) -> Block:
    """Give the jobs in two columns, each with a box to tick by hand; `shown` is how many."""
    jobs = sheet.assessment.fix_list
    kept = jobs[:shown]
    if not jobs:
        return nothing()
    if not kept:
        return with_more(nothing(), f"Fix list: {counted(len(jobs), 'job')}, on the tablet")
    room = (sheet.wide_mm - GUTTER_MM) / 2
    cells = [broken(sentence(_(job)), Type(size_pt), room - INDENT_MM) for job in kept]
    split = even_split([_cells_mm([cell], size_pt) for cell in cells])
    columns = (cells[:split], cells[split:])

    def paint(pen: PdfPen, top: float) -> None:
        for number, column in enumerate(columns):
            _paint_jobs(pen, column, (EDGE_MM + number * (room + GUTTER_MM), top), size_pt)

    high = max(_cells_mm(column, size_pt) for column in columns)
    more = len(jobs) - len(kept)
    words = f"and {counted(more, 'more job')} on the tablet" if more else ""
    return with_more(titled("Fix list", Block(high, paint)), words)


def _cells_mm(cells: list[list[str]], size_pt: float) -> float:
    return sum(len(cell) * line_mm(size_pt) + JOB_APART_MM for cell in cells)


def _paint_jobs(pen: PdfPen, cells: list[list[str]], corner: Point, size_pt: float) -> None:
    x, y = corner
    for cell in cells:
        outline = box((x, y + 0.5), (TICK_BOX_MM, TICK_BOX_MM))
        pen.stroke(outline, Line("text", 0.25), closed=True)
        y += set_lines(pen, cell, (x + INDENT_MM, y), Type(size_pt)) + JOB_APART_MM


def not_seen(sheet: RoundSheet, size_pt: float) -> Block:
    """Say plainly what was not looked at, what no look can show, and what deviates."""
    label_mm = 30.0
    rows = [
        (label, broken(words, Type(size_pt), sheet.wide_mm - label_mm))
        for label, words in _plainly(sheet)
    ]

    def paint(pen: PdfPen, top: float) -> None:
        for label, lines in rows:
            set_line(pen, label, (EDGE_MM, top), Type(size_pt, bold=True))
            top += set_lines(pen, lines, (EDGE_MM + label_mm, top), Type(size_pt)) + 0.5

    return Block(sum(len(lines) * line_mm(size_pt) + 0.5 for _, lines in rows), paint)


def not_seen_beside(sheet: RoundSheet, size_pt: float, room_mm: float) -> Block:
    """Say the same at the left edge in little room: what was not looked at is named in part."""
    kind = Type(size_pt)
    parts = [
        broken(f"{label}: {words}", kind, room_mm) for label, words in _plainly(sheet, named=2)
    ]

    def paint(pen: PdfPen, top: float) -> None:
        for lines in parts:
            top += set_lines(pen, lines, (EDGE_MM, top), kind) + 0.6

    return Block(sum(len(lines) * line_mm(size_pt) + 0.6 for lines in parts), paint)


def _plainly(sheet: RoundSheet, named: int = 6) -> list[tuple[str, str]]:
    """Give it in the language of the paper, but for what was signed: that stands as it is."""
    signed = ("The sign-off says", "The signer states")
    return [
        (_(label), words if label in signed else _(words))
        for label, words in _plain_words(sheet, named)
    ]


def _plain_words(sheet: RoundSheet, named: int = 6) -> list[tuple[str, str]]:
    skipped = not_looked_at(sheet.assessment, named)
    said = [("Not looked at", sentence(skipped or _("nothing that the standard asks for")))]
    deviations = dict.fromkeys(
        f"{it.title}, {it.deviation}" for it in sheet.assessment.findings if it.deviation
    )
    beyond = went_beyond(sheet.bundle.round)
    said += [("Beyond the last row", sentence(f"Somebody went there: {beyond}"))] if beyond else []
    figures = work_words(sheet.bundle.round, sheet.bundle.standard, sheet.zone)
    said += [("Work", sentence(figures))] if figures else []
    said += [("In doubt", sentence(f"{it.words}; {it.reason}")) for it in sheet.doubts]
    said += [("Under a deviation", sentence(deviation)) for deviation in deviations]
    if sheet.sign_off is None:
        return [*said, ("No look can show", sentence(", ".join(sheet.assessment.not_seen)))]
    said.append(("The sign-off says", sentence(sheet.sign_off.says)))
    return [*said, ("The signer states", f"“{sheet.sign_off.states}”")]


def foot(sheet: RoundSheet) -> Block:
    """Give the cautions, and what proves which record this sheet shows."""
    kind = Type(8.0, bold=True)
    cautions = broken(" ".join(map(_, CAUTIONS)), kind, sheet.wide_mm)
    record = (
        f"Round {sheet.round_id} · revision {sheet.round_revision[:16]} · assessment "
        f"{sheet.assessment_sha256[:16]}, method {sheet.assessment.method_version} · "
        f"printed {sheet.time(sheet.printed_at)} · lastrow verify {sheet.code.readable}"
    )
    small = Type(SMALLEST_PT, colour="quiet")
    lines = broken(_(record), small, sheet.wide_mm)

    def paint(pen: PdfPen, top: float) -> None:
        pen.stroke([(EDGE_MM, top), (EDGE_MM + sheet.wide_mm, top)], Line("text", 0.3))
        top += 1.2
        top += set_lines(pen, cautions, (EDGE_MM, top), kind) + 0.6
        set_lines(pen, lines, (EDGE_MM, top), small)

    return Block(1.8 + len(cautions) * line_mm(8.0) + len(lines) * line_mm(SMALLEST_PT), paint)
