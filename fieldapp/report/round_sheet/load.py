"""The second page of a round's sheet, for engineers: what each bolt carries of its ground."""

from assets.translate import _
from fieldapp.report.drive.loads import load_picture
from fieldapp.report.paint.panel import drive_panel
from fieldapp.report.pens.pdf import PdfPen
from fieldapp.report.pens.pen import Type
from fieldapp.report.round_sheet.blocks import EDGE_MM, RoundSheet
from fieldapp.report.set_text import broken, line_mm, set_lines
from fieldapp.report.words.findings import BETWEEN, limit, measured, verdict_words
from schemas.findings import Finding

TITLE = Type(13.0, bold=True)
PLAIN = Type(9.0)
APART_MM = 4.0


def load_page(pen: PdfPen, sheet: RoundSheet) -> None:
    """Begin a page with the load map, and what was found under it."""
    pen.next_page()
    round_ = sheet.bundle.round
    title = _("Load: {heading}, round {number}").format(
        heading=sheet.bundle.heading.name, number=round_.number
    )
    wide_mm, top = sheet.wide_mm, EDGE_MM
    for words, kind in ((title, TITLE), (_(WHAT_IT_IS), PLAIN), *_found(sheet)):
        lines = broken(words, kind, wide_mm)
        set_lines(pen, lines, (EDGE_MM, top), kind)
        top += len(lines) * line_mm(kind.size_pt) + 1.0
    drawing = load_picture(sheet.bundle, units=sheet.units)
    if drawing is None:
        nothing = _("Nothing is demanded of this class, or its rows leave no ground between them.")
        set_lines(pen, broken(nothing, PLAIN, wide_mm), (EDGE_MM, top), PLAIN)
        return
    top += APART_MM
    room = (wide_mm, sheet.paper.high_mm - EDGE_MM - top)
    drive_panel(drawing, (EDGE_MM, top), room).paint(pen)


WHAT_IT_IS = (
    "Each bolt's figure is how many times it carries what the ground nearest to it demands. "
    "Load only worsens a verdict: a wide gap stays a gap, whatever is carried."
)


def _found(sheet: RoundSheet) -> list[tuple[str, Type]]:
    found = [it for it in sheet.assessment.findings if it.check == "load"]
    return [(_said(it), PLAIN) for it in found]


def _said(finding: Finding) -> str:
    figures = measured(finding, engineer=True), limit(finding, engineer=True)
    said = (_(finding.title), _(verdict_words(finding)), *(_(it) for it in figures if it))
    return BETWEEN.join((*said, finding.because))
