"""The report of one heading: its history on paper."""

from collections.abc import Iterator, Sequence

from assets.translate import _
from fieldapp.report.pages.flow import Piece, pages_pdf, title_piece
from fieldapp.report.pages.heading_map import heading_maps
from fieldapp.report.pages.intersection_table import intersection_pieces
from fieldapp.report.pages.laying import (
    GUTTER_MM,
    Laying,
    chart_pieces,
    fact_pieces,
    head_pieces,
    part,
)
from fieldapp.report.pages.looked_after_tables import steel_pieces, test_pieces, walk_pieces
from fieldapp.report.pages.month_charts import last_row_chart, month_charts
from fieldapp.report.pages.tables_told import (
    damage_photos,
    damage_table,
    event_table,
    finding_table,
    month_table,
    repair_pieces,
    round_table,
)
from fieldapp.report.pages.trend_pieces import trend_pieces
from fieldapp.report.paint.frame import Margins
from fieldapp.report.paint.panel import drive_panel
from fieldapp.report.pens.pdf import PdfPen
from fieldapp.report.round_sheet.blocks import EDGE_MM, Block
from fieldapp.report.shapes import Drawing
from fieldapp.report.words.findings import NO_BREAK, sentence
from fieldapp.report.words.lengths import chainage_words, line_words
from fieldapp.work.reporting.facts import EntryTold, HeadingFacts, HeadingTold

MAP_MM = 128.0
MAP_MARGINS = Margins(left_mm=11.0, right_mm=17.0)
ROUNDS_CHARTED = 60


def heading_pages(on: Laying, facts: HeadingFacts, title: str) -> bytes:
    """Print a heading's history.

    Raises
    ------
    Stopped
        The watcher stopped it.
    """
    return pages_pdf(on.pages(title), list(_pieces(on, facts)))


def _pieces(on: Laying, facts: HeadingFacts) -> Iterator[Piece]:
    heading = facts.heading
    level = _("Level {level}").format(level=heading.level) + " · " if heading.level else ""
    below = (
        f"{level}{_('class {code}').format(code=heading.support_class)}",
        _("as at {at}").format(at=on.when(facts.as_at)),
    )
    yield from head_pieces(on, _("Heading report"), heading.name, below)
    yield from part("How it stands", list(fact_pieces(on, standing_facts(on, heading))))
    yield from fact_pieces(on, list(_rechained(on, facts)))
    limit = facts.support.limits.last_row_to_face.at_most_m if facts.support else None
    last = facts.rounds[-ROUNDS_CHARTED:]
    charts = [*month_charts(facts.months), last_row_chart(last, limit)]
    yield from part("By month", [*chart_pieces(on, charts), *month_table(on, facts.months)])
    yield from part("Trends", list(trend_pieces(on, facts.trends)))
    yield from part("Rounds", round_table(on, facts.rounds))
    yield from part("Findings", finding_table(on, facts.rounds))
    nothing = _("No damage was recorded.")
    yield from part("Damage", damage_table(on, facts.damages, nothing=nothing))
    yield from damage_photos(on, facts.damages)
    yield from _repairs(on, facts)
    walks = list(walk_pieces(on, facts.walks, facts.walk_due))
    yield from part("Condition walks", walks)
    yield from part("Old steel", list(steel_pieces(on, facts.steel)))
    tests = list(test_pieces(on, facts.tests, facts.tests_due))
    yield from part("Tests of support", tests)
    if facts.intersections:
        yield from part("Intersections", list(intersection_pieces(on, facts.intersections)))
    yield from part("Events", event_table(on, facts.events))
    yield from _maps(on, list(heading_maps(facts, on.units)))


def _rechained(on: Laying, facts: HeadingFacts) -> Iterator[tuple[str, str]]:
    """Say from where chainages were measured anew: what stands here is by today's."""
    more = _("from {from_m} inbye chainages are {by} more; everything here is by those of today")
    less = _("from {from_m} inbye chainages are {by} less; everything here is by those of today")
    for it in facts.rechained:
        said = more if it.by_m > 0 else less
        from_m, by = chainage_words(it.from_m, on.units), on.metres(abs(it.by_m))
        yield on.when(it.at), said.format(from_m=from_m, by=by)


def standing_facts(on: Laying, heading: HeadingTold) -> Sequence[tuple[str, str]]:
    """Say where people might go, how much is signed, and what damage is open."""
    entry = heading.entry
    covered = _("{signed} of {fired} fired lie under accepted rounds").format(
        signed=on.metres(entry.signed_m), fired=on.metres(entry.fired_m)
    )
    damage = _("{n} open, {m} of it overdue").format(n=heading.open_damage, m=heading.overdue)
    nothing = _("No event, notice or damage withdraws it.")
    return (
        ("Entry", entry_words(on, entry)),
        ("Why", sentence(on.words("; ".join(entry.because))) or nothing),
        ("Signed since the record began", covered),
        ("Damage now", damage),
    )


def entry_words(on: Laying, entry: EntryTold) -> str:
    """Say how far people might go, and what holds on the way and beyond."""
    line = line_words(entry.line_m, on.units).replace(" ", NO_BREAK)
    face = chainage_words(entry.face_m, on.units).replace(" ", NO_BREAK)
    if not entry.beyond:
        return _("to {line}, the face itself; {outbye} on the way").format(
            line=line, outbye=_(entry.outbye)
        )
    said = _(
        "to {line}, nobody beyond; from there to the face at {face}: {beyond}; {outbye} on the way"
    )
    return said.format(line=line, face=face, beyond=_(entry.beyond), outbye=_(entry.outbye))


def _repairs(on: Laying, facts: HeadingFacts) -> Iterator[Piece]:
    yield title_piece(_("Repairs"))
    if not facts.repairs:
        yield from fact_pieces(on, (("Repairs", _("None was planned.")),))
    for it in facts.repairs:
        yield from repair_pieces(on, it, _("Repair {label}").format(label=it.label))


def _maps(on: Laying, maps: Sequence[Drawing]) -> Iterator[Piece]:
    """Give the stretches of the unrolled drive in two columns."""
    if maps:
        yield title_piece(_("The unrolled drive, from the face outbye"))
    wide = (on.wide_mm - GUTTER_MM) / 2
    for first in range(0, len(maps), 2):
        pair = maps[first : first + 2]
        room = (wide, MAP_MM)
        panels = [drive_panel(it, (EDGE_MM, 0.0), room, MAP_MARGINS) for it in pair]

        def paint(pen: PdfPen, top: float, pair: Sequence[Drawing] = pair) -> None:
            for number, it in enumerate(pair):
                corner = (EDGE_MM + number * (wide + GUTTER_MM), top)
                drive_panel(it, corner, (wide, MAP_MM), MAP_MARGINS).paint(pen)

        yield Piece(Block(max(it.high_mm for it in panels), paint), above_mm=3.0)
