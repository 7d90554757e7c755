"""The work of a month on paper: pace and cost, who went beyond, delays, take-off against used."""

from collections.abc import Callable, Iterator, Sequence
from datetime import timedelta
from decimal import Decimal
from typing import Final

from assets.translate import _, counted
from fieldapp.assess.statistics.interval import Interval
from fieldapp.report.chart import Chart, Series
from fieldapp.report.pages.flow import Piece, text_pieces, title_piece
from fieldapp.report.pages.laying import NOT_SAID, Laying, chart_pieces
from fieldapp.report.pages.table import Column, Row, table
from fieldapp.report.words.findings import month_words
from fieldapp.report.words.take_off import NAMES, plain
from fieldapp.report.words.trend import course_said
from fieldapp.report.words.work import difference_said
from fieldapp.work.reporting.facts import MonthFacts
from fieldapp.work.reporting.months import months_between
from fieldapp.work.reporting.told_of_work import PaceTold, TakenTold, WorkDone
from fieldapp.work.trends.of_work import PACE

_UNSAID: Final = "not said how"
_MEDIANS: Final = (
    "Medians of n rounds, and between what each lies at 95 %; of fewer than six none is said."
)


def work_pieces(on: Laying, facts: MonthFacts) -> Iterator[Piece]:
    """Give the work of the rounds that count in the month."""
    work = facts.work
    yield from text_pieces(_counted_words(work), on.wide_mm)
    yield from chart_pieces(on, list(work_charts(work)))
    month = month_words(facts.month)
    for title, in_month, told in (
        (_("Pace and cost in {month}").format(month=month), True, _month_words),
        (_("Pace and cost in the twelve months to its end"), False, _year_words),
    ):
        paces = [it for it in work.pace if (it.month is not None) is in_month]
        yield title_piece(title, level=2)
        yield from text_pieces(_(_MEDIANS), on.wide_mm)
        yield from _pace_table(on, paces, told)
    yield title_piece(_("Beyond the last row"), level=2)
    yield from _beyond(on, work)
    yield title_piece(_("Delays"), level=2)
    yield from _delays(on, work)
    yield title_piece(_("Take-off by the standard against what went in"), level=2)
    yield from _materials(on, work.materials)


def work_charts(work: WorkDone) -> Iterator[Chart]:
    """Give each measure by month, a row of points for each method."""
    months = [it.month for it in work.by_month if it.month]
    steps = months_between(months[0], months[-1]) if months else ()
    for what in PACE:
        told = [it for it in work.by_month if it.measure == what.key]
        of_method: dict[str, dict[str, float]] = {}
        for it in told:
            name = ", ".join(filter(None, (_(it.method or _UNSAID), it.currency)))
            of_method.setdefault(name, {})[it.month or ""] = float(it.median)
        yield Chart(
            _("{measure}, the median of each month").format(measure=_(what.title)),
            _(what.unit),
            steps,
            tuple(
                Series(name, tuple(map(values.get, steps)), "points")
                for name, values in sorted(of_method.items())
            ),
        )


def _counted_words(work: WorkDone) -> str:
    return _(
        "By heading and method, never by name, and no verdict: who is fast may be in a hurry. "
        "A round counts in the month in which it was first signed, or recorded where nobody has "
        "signed. {n} in this month; of {m} of them something is stated of the work."
    ).format(n=counted("{} round", "{} rounds", work.rounds), m=work.stated)


def _pace_table(
    on: Laying, paces: Sequence[PaceTold], told: Callable[[PaceTold], str]
) -> list[Piece]:
    columns = (
        Column(_("heading"), 30),
        Column(_("method"), 20),
        *(Column(_(it.title), 46) for it in PACE),
    )
    groups: dict[tuple[str, str], dict[str, list[str]]] = {}
    for it in paces:
        group = (it.heading or "", _(it.method or _UNSAID))
        groups.setdefault(group, {}).setdefault(it.measure, []).append(told(it))
    rows = [
        Row((*group, *("; ".join(of.get(it.key, [NOT_SAID])) for it in PACE)))
        for group, of in groups.items()
    ]
    return table(columns, rows, on.wide_mm, nothing=_("Nothing was stated that tells it."))


def _month_words(it: PaceTold) -> str:
    said = _("{value}, n = {n}").format(value=f"{plain(it.median)} {_unit(it)}", n=it.rounds)
    sure = _between(it.low, it.high)
    if sure is None:
        return said
    return _("{said} ({low} to {high})").format(
        said=said, low=plain(sure.low), high=plain(sure.high)
    )


def _year_words(it: PaceTold) -> str:
    sure = _between(it.per_year_low, it.per_year_high)
    if it.per_year is None or sure is None:
        return _month_words(it)
    course = course_said((it.per_year, sure), timedelta(days=it.days), _unit(it))
    return f"{_month_words(it)}; {course}"


def _unit(it: PaceTold) -> str:
    return " ".join(filter(None, (it.currency, _(it.unit))))


def _between(low: Decimal | None, high: Decimal | None) -> Interval | None:
    return None if low is None or high is None else Interval(low, high)


def _beyond(on: Laying, work: WorkDone) -> Iterator[Piece]:
    low, high = work.beyond_low_percent, work.beyond_high_percent
    if low is None or high is None:
        yield from text_pieces(_("Of no round it was said."), on.wide_mm)
    else:
        said = _("{n} of {m} rounds of which it was said ({low} to {high} %, 95 % sure).").format(
            n=work.beyond_stated, m=work.beyond_said, low=plain(low), high=plain(high)
        )
        yield from text_pieces(said, on.wide_mm)
    columns = (
        Column(_("heading"), 32),
        Column(_("round"), 22),
        Column(_("when"), 30),
        Column(_("why"), 52),
        Column(_("looked into"), 52),
    )
    rows = [
        Row(
            (
                it.heading,
                it.round,
                on.when(it.at),
                _(it.reason) if it.reason else _("no reason stated"),
                f"{on.when(it.looked_into_at)}, {_(it.found)}"
                if it.found
                else _("NOBODY HAS LOOKED INTO IT"),
            ),
            bold=not it.found,
        )
        for it in work.beyond
    ]
    if rows:
        yield from table(columns, rows, on.wide_mm, nothing="")


def _delays(on: Laying, work: WorkDone) -> Iterator[Piece]:
    minutes = sum(it.minutes for it in work.delays)
    said = _("{n} min in all, in the {m} rounds of which it was said.").format(
        n=minutes, m=work.delays_said
    )
    yield from text_pieces(said if work.delays_said else _("Of no round it was said."), on.wide_mm)
    columns = (
        Column(_("cause"), 90),
        Column(_("rounds"), 20, "right"),
        Column(_("minutes"), 20, "right"),
        Column(_("share of all delays"), 30, "right"),
    )
    rows = [
        Row((_(it.cause), str(it.rounds), str(it.minutes), f"{100 * it.minutes / minutes:.0f} %"))
        for it in work.delays
    ]
    if rows:
        yield from table(columns, rows, on.wide_mm, nothing="")


def _materials(on: Laying, several: Sequence[TakenTold]) -> list[Piece]:
    columns = (
        Column(_("heading"), 34),
        Column(_("what"), 34),
        Column(_("the rounds take"), 24, "right"),
        Column(_("counted in rounds"), 22, "right"),
        Column(_("those take"), 20, "right"),
        Column(_("went in"), 20, "right"),
        Column(_("difference"), 34, "right"),
    )
    rows = [
        Row(
            (
                it.heading,
                " ".join(filter(None, (_(NAMES[it.thing]), it.of))),
                _much(it, it.needed),
                _("{n} of {m}").format(n=it.counted, m=it.rounds),
                _much(it, it.by_standard) if it.counted else NOT_SAID,
                NOT_SAID if it.used is None else _much(it, it.used),
                _difference(it),
            )
        )
        for it in several
    ]
    return table(columns, rows, on.wide_mm, nothing=_("No round counts in this month."))


def _much(it: TakenTold, much: Decimal) -> str:
    return plain(much) + (" m²" if it.unit == "m²" else "")


def _difference(it: TakenTold) -> str:
    if it.difference is None:
        return _("nobody counted")
    said = difference_said(it.difference)
    if not it.difference or not it.by_standard:
        return said
    return f"{said}, {100 * it.difference / it.by_standard:+.0f} %"
