"""A month on paper: what was fired and signed, found and repaired, and what is overdue."""

from collections.abc import Iterator, Sequence

from assets.translate import _
from fieldapp.report.pages.flow import (
    Piece,
    pages_pdf,
    text_pieces,
    title_piece,
    with_what_follows,
)
from fieldapp.report.pages.heading_pages import entry_words, standing_facts
from fieldapp.report.pages.laying import (
    NOT_SAID,
    Laying,
    chart_pieces,
    fact_pieces,
    head_pieces,
    part,
)
from fieldapp.report.pages.looked_after_tables import due_words, test_pieces, walk_table
from fieldapp.report.pages.month_charts import last_row_chart, month_charts
from fieldapp.report.pages.rehab_pages import line_table
from fieldapp.report.pages.table import Column, Row, table
from fieldapp.report.pages.tables_told import (
    damage_photos,
    damage_table,
    month_table,
    repair_pieces,
    round_table,
)
from fieldapp.report.pages.trend_pieces import trend_pieces, worse_words, worsening_words
from fieldapp.report.pages.work_pieces import work_pieces
from fieldapp.report.words.findings import month_words
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
        told = [*month_facts(on, facts.months[-1]), *_to_ask_about(facts)]
        facts_of_it = list(fact_pieces(on, told))
        yield from part("The month", facts_of_it)
        charts = list(chart_pieces(on, list(month_charts(facts.months))))
        yield from part("Month by month", [*charts, *month_table(on, facts.months)])
    yield from part("Headings", _heading_table(on, facts.headings))
    yield from part("Overdue", line_table(on, facts.overdue))
    yield from part("Trends", list(trend_pieces(on, facts.trends)))
    yield from part("Work", list(work_pieces(on, facts)))
    for it in facts.headings:
        yield from _heading(on, it)


def _to_ask_about(facts: MonthFacts) -> Iterator[tuple[str, str]]:
    """Say what a reader would otherwise have to find among the trends."""
    yield "Surely worse than the rest", worse_words(facts.trends) or NOT_SAID
    yield "Surely getting worse", worsening_words(facts.trends) or NOT_SAID


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


def _looked_after(on: Laying, it: HeadingMonth) -> Iterator[Piece]:
    """Give the walks and tests of the month, and the tests that are due."""
    if it.walks:
        yield title_piece(_("Condition walks"), level=2)
        yield from walk_table(on, it.walks)
    if it.tests or it.tests_due:
        yield title_piece(_("Tests of support"), level=2)
        yield from test_pieces(on, it.tests, it.tests_due)


def _heading_table(on: Laying, headings: Sequence[HeadingMonth]) -> list[Piece]:
    columns = (
        Column(_("heading"), 32),
        Column(_("entry"), 58),
        Column(_("signed of fired"), 24, "right"),
        Column(_("accepted first"), 18, "right"),
        Column(_("damage found / repaired"), 20, "right"),
        Column(_("open / overdue"), 16, "right"),
        Column(_("walk: due / late"), 16, "right"),
        Column(_("tests: made / due"), 17, "right"),
    )
    rows = [
        Row(
            (
                it.heading.name,
                entry_words(on, it.heading.entry),
                f"{on.metres(it.month.signed_m)} / {on.metres(it.month.fired_m)}",
                f"{it.month.accepted_first} / {it.month.signed_off}",
                f"{it.month.damage_found} / {it.month.damage_repaired}",
                f"{it.heading.open_damage} / {it.heading.overdue}",
                f"{it.walk_due.due} / {it.walk_due.late}" if it.walk_due else NOT_SAID,
                f"{len(it.tests)} / {sum(due.tests for due in it.tests_due)}",
            ),
            bold=it.heading.overdue > 0,
        )
        for it in headings
    ]
    return table(columns, rows, on.wide_mm, nothing=_("No heading is entered."))


def _heading(on: Laying, it: HeadingMonth) -> Iterator[Piece]:
    yield title_piece(it.heading.name)
    walked = ("Condition walk", due_words(it.walk_due))
    told = [*standing_facts(on, it.heading), *month_facts(on, it.month), walked]
    yield from with_what_follows(fact_pieces(on, told))
    yield from _looked_after(on, it)
    if not (it.rounds or it.found or it.repaired):
        nothing = _("No round, damage or repair was recorded in this month.")
        yield from text_pieces(nothing, on.wide_mm)
        return
    yield title_piece(_("Rounds"), level=2)
    yield from round_table(on, it.rounds, judged=False)
    for both in it.judged_otherwise:
        said = _("Round {n} is judged otherwise now. {then}. {now}.").format(
            n=both.round, then=both.then, now=both.now
        )
        yield from text_pieces(said, on.wide_mm, above_mm=1.0)
    if len(it.rounds) > 1:
        yield from chart_pieces(on, [last_row_chart(it.rounds, None)])
    yield title_piece(_("Damage found"), level=2)
    yield from damage_table(on, it.found, nothing=_("No damage was found."))
    yield from damage_photos(on, it.found, most=1)
    for one in it.repaired:
        label = _("Repaired and verified: {label}").format(label=one.label)
        yield from repair_pieces(on, one, label)
