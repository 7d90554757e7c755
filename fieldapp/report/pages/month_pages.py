"""A month on paper: what was fired and signed, found and repaired, and what is overdue."""

from collections.abc import Iterator, Sequence

from assets.translate import _
from fieldapp.report.pages.flow import Piece, pages_pdf, text_pieces, title_piece
from fieldapp.report.pages.heading_pages import entry_words, standing_facts
from fieldapp.report.pages.laying import Laying, chart_pieces, fact_pieces, head_pieces, part
from fieldapp.report.pages.month_charts import last_row_chart, month_charts
from fieldapp.report.pages.rehab_pages import line_table
from fieldapp.report.pages.table import Column, Row, table
from fieldapp.report.pages.tables_told import (
    damage_table,
    month_table,
    repair_pieces,
    round_table,
)
from fieldapp.report.words import month_words
from fieldapp.work.reporting.facts import HeadingMonth, MonthFacts, MonthTold


def month_pages(on: Laying, facts: MonthFacts, title: str) -> bytes:
    """Print a month.

    Raises
    ------
    Stopped
        The watcher stopped it.
    """
    return pages_pdf(on.pages(title), list(_pieces(on, facts)))


def _pieces(on: Laying, facts: MonthFacts) -> Iterator[Piece]:
    which = (
        _("every heading")
        if facts.every_heading
        else ", ".join(it.heading.name for it in facts.headings)
    )
    at = _("as at {at}").format(at=on.when(facts.as_at))
    yield from head_pieces(on, _("Month report"), month_words(facts.month), (which, at))
    if facts.months:
        facts_of_it = list(fact_pieces(on, month_facts(on, facts.months[-1])))
        yield from part("The month", facts_of_it)
        charts = list(chart_pieces(on, list(month_charts(facts.months))))
        yield from part("Month by month", [*charts, *month_table(on, facts.months)])
    yield from part("Headings", _heading_table(on, facts.headings))
    yield from part("Overdue", line_table(on, facts.overdue))
    for it in facts.headings:
        yield from _heading(on, it)


def month_facts(on: Laying, month: MonthTold) -> Sequence[tuple[str, str]]:
    """Say what a month came to."""
    covered = _("{signed} of {fired} fired lie under accepted rounds").format(
        signed=on.metres(month.signed_m), fired=on.metres(month.fired_m)
    )
    first = _("{n} of {m}").format(n=month.accepted_first, m=month.signed_off)
    damage = _("{n} found, {m} repaired and verified").format(
        n=month.damage_found, m=month.damage_repaired
    )
    return (
        ("Signed of its firings", covered),
        ("Accepted when first shown", first),
        ("Greatest last row to face", on.metres(month.last_row_to_face_m)),
        ("Damage in the month", damage),
    )


def _heading_table(on: Laying, headings: Sequence[HeadingMonth]) -> list[Piece]:
    columns = (
        Column(_("heading"), 32),
        Column(_("entry"), 58),
        Column(_("signed of fired"), 24, "right"),
        Column(_("accepted first"), 18, "right"),
        Column(_("damage found, repaired"), 20, "right"),
        Column(_("open, overdue"), 18, "right"),
    )
    rows = [
        Row(
            (
                it.heading.name,
                entry_words(on, it.heading.entry),
                f"{on.metres(it.month.signed_m)} / {on.metres(it.month.fired_m)}",
                f"{it.month.accepted_first} / {it.month.signed_off}",
                f"{it.month.damage_found}, {it.month.damage_repaired}",
                f"{it.heading.open_damage}, {it.heading.overdue}",
            ),
            bold=it.heading.overdue > 0,
        )
        for it in headings
    ]
    return table(columns, rows, on.wide_mm, nothing=_("No heading is entered."))


def _heading(on: Laying, it: HeadingMonth) -> Iterator[Piece]:
    yield title_piece(it.heading.name)
    yield from fact_pieces(on, [*standing_facts(on, it.heading), *month_facts(on, it.month)])
    if not (it.rounds or it.found or it.repaired):
        yield from text_pieces(_("Nothing was recorded in this month."), on.wide_mm)
        return
    yield title_piece(_("Rounds"), level=2)
    yield from round_table(on, it.rounds, judged=False)
    if len(it.rounds) > 1:
        yield from chart_pieces(on, [last_row_chart(it.rounds, None)])
    yield title_piece(_("Damage found"), level=2)
    yield from damage_table(on, it.found, nothing=_("No damage was found."))
    for one in it.repaired:
        label = _("Repaired and verified: {label}").format(label=one.label)
        yield from repair_pieces(on, one, label)
