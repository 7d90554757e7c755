"""The box on a round sheet that says what was decided, by whom, and where entry ends."""

from dataclasses import dataclass

from assets.translate import _
from fieldapp.report.letters import cut
from fieldapp.report.marks import VERDICT_MARKS
from fieldapp.report.paint.mark import paint_mark
from fieldapp.report.pens.pdf import PdfPen
from fieldapp.report.pens.pen import Line, Type, box
from fieldapp.report.round_sheet.blocks import EDGE_MM, Block, RoundSheet
from fieldapp.report.set_text import broken, line_mm, set_line, set_lines
from fieldapp.report.words.entry import NOBODY
from fieldapp.report.words.findings import sentence, told, with_role

ENTRY_MM = 58.0
PAD_MM = 2.6
MARK_HALF_MM = 6.0
ENTRY_MARK_MM = 3.2
"""Of the state up to the face, which an accepted round alone doesn't decide."""

WORD = Type(21.0, bold=True)
VERDICT = Type(11.0, bold=True)
SAID = Type(9.0)
QUIET = Type(9.0, colour="quiet")
LINE = Type(17.0, bold=True)
SMALL = Type(8.0)


@dataclass(frozen=True)
class _Words:
    """What stands in the box, broken into lines before its height is known."""

    decided: str
    verdict: list[str]
    said: list[str]
    entry: list[str]

    @property
    def high_mm(self) -> float:
        left = line_mm(WORD.size_pt) + len(self.verdict) * line_mm(VERDICT.size_pt)
        left += len(self.said) * line_mm(SAID.size_pt)
        right = line_mm(QUIET.size_pt) + line_mm(LINE.size_pt)
        right += len(self.entry) * line_mm(SMALL.size_pt)
        return 2 * PAD_MM + max(left, right)


def decision(sheet: RoundSheet) -> Block:
    """Give what was decided, the verdict behind it, who signed, and the entry line."""
    room = sheet.wide_mm - ENTRY_MM - 3 * PAD_MM - 2 * MARK_HALF_MM
    words = _Words(
        decided=_(sheet.sign_off.decision if sheet.sign_off else "not signed").upper(),
        verdict=broken(_verdict_words(sheet), VERDICT, room),
        said=broken(_(_who(sheet)), SAID, room),
        entry=broken(" ".join(map(_, _entry_words(sheet))), SMALL, ENTRY_MM - 2 * PAD_MM),
    )
    return Block(words.high_mm, lambda pen, top: _paint(sheet, words, pen, top))


def _paint(sheet: RoundSheet, words: _Words, pen: PdfPen, top: float) -> None:
    high, border = words.high_mm, Line("text", 0.5)
    pen.stroke(box((EDGE_MM, top), (sheet.wide_mm, high)), border, closed=True)
    centre = (EDGE_MM + PAD_MM + MARK_HALF_MM, top + PAD_MM + MARK_HALF_MM + 0.8)
    paint_mark(pen, VERDICT_MARKS[sheet.assessment.verdict], centre, MARK_HALF_MM)
    x, y = EDGE_MM + 2 * PAD_MM + 2 * MARK_HALF_MM, top + PAD_MM
    colour = "text" if sheet.sign_off else "no_entry"
    y += set_lines(pen, [words.decided], (x, y), Type(WORD.size_pt, bold=True, colour=colour))
    y += set_lines(pen, words.verdict, (x, y), VERDICT)
    set_lines(pen, words.said, (x, y), SAID)
    x, y = EDGE_MM + sheet.wide_mm - ENTRY_MM, top + PAD_MM
    pen.stroke([(x, top), (x, top + high)], border)
    _paint_entry(sheet, words, pen, (x + PAD_MM, y))


def _paint_entry(
    sheet: RoundSheet, words: _Words, pen: PdfPen, corner: tuple[float, float]
) -> None:
    x, y = corner
    bound = sheet.entry_said.bound if sheet.entry_said else NOBODY
    set_line(pen, _(f"Entry, {bound}"), (x, y), QUIET)
    y += line_mm(QUIET.size_pt)
    line = sheet.entry_line_words
    set_line(pen, _("to {line}").format(line=line) if line else _("not known"), (x, y), LINE)
    set_lines(pen, words.entry, (x, y + line_mm(LINE.size_pt)), SMALL)
    if sheet.entry is not None and sheet.entry.mark is not None:
        centre = (x + ENTRY_MM - 2 * PAD_MM - ENTRY_MARK_MM, corner[1] + ENTRY_MARK_MM)
        paint_mark(pen, VERDICT_MARKS[sheet.entry.mark], centre, ENTRY_MARK_MM)


def _verdict_words(sheet: RoundSheet) -> str:
    if all(not told(finding) for finding in sheet.assessment.findings):
        return _("Findings: all accepted")
    return _("Findings: {headline}").format(headline=_(sheet.assessment.headline))


def _who(sheet: RoundSheet) -> str:
    if sheet.sign_off is None or sheet.signed_at is None:
        return "Nobody has decided on this round. A sheet without a signature allows no entry."
    name = cut(sheet.signed_by or _("name not known here"), SAID.size_pt, 72.0)
    return f"{with_role(name, sheet.sign_off.role)} · {sheet.time(sheet.signed_at)}"


def _entry_words(sheet: RoundSheet) -> list[str]:
    """Say what holds beyond the line and outbye of it: it may be closed again since."""
    said = sheet.entry_said
    if said is not None:
        parts = (said.rest, said.outbye, *(it.words for it in sheet.under_deviation))
        as_at = f"As at {sheet.time(sheet.printed_at)}; ask the Shift board."
        return [*(sentence(part) for part in parts if part), as_at]
    if sheet.sign_off is not None:
        return ["By this decision alone; events and notices may hold it farther back."]
    return ["Ask the Shift board."]
