"""How things went over the months, on paper: charts of all together, tables of crews and batches.

A trend is no verdict, and names nobody: what a crew does is the crew's to mend.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Final
from zoneinfo import ZoneInfo

from assets.translate import _
from fieldapp.assess.statistics.control_chart import ControlChart, individuals_chart
from fieldapp.assess.statistics.interval import Interval
from fieldapp.assess.statistics.median_interval import Middle
from fieldapp.report.chart import Chart
from fieldapp.report.pages.flow import Piece, text_pieces, title_piece, with_what_follows
from fieldapp.report.pages.laying import CHART_MM, GUTTER_MM, NOT_SAID, Laying
from fieldapp.report.pages.table import Column, Row, table
from fieldapp.report.paint.chart import paint_chart
from fieldapp.report.pens.pdf import PdfPen
from fieldapp.report.pens.pen import Type
from fieldapp.report.round_sheet.blocks import EDGE_MM, Block
from fieldapp.report.set_text import broken, line_mm, set_lines
from fieldapp.report.trend_chart import all_in_sight, trend_chart
from fieldapp.report.words.findings import sentence
from fieldapp.report.words.trend import (
    LEAST_TIME,
    at_words,
    course_said,
    limits_words,
    middle_said,
    share_said,
    value_words,
)
from fieldapp.work.reporting.months import SHOWN
from fieldapp.work.reporting.told_of_trends import TrendTold, ValueTold
from fieldapp.work.trends import Grouping, Measure, Point, Series, measure

SMALL: Final = Type(7.5)
MOST_LINES: Final = 8
GAP_MM: Final = 0.8


def trend_pieces(on: Laying, trends: Sequence[TrendTold]) -> Iterator[Piece]:
    """Give a chart of each thing that is followed, then the groups that it is told apart by."""
    drawn = [it for it in trends if it.by == "mine"]
    if not drawn:
        yield from text_pieces(_("Nothing was recorded."), on.wide_mm)
        return
    said = _("A trend is no verdict, and lets nobody into a heading. It names crews, no people.")
    yield from with_what_follows(text_pieces(said, on.wide_mm))
    for first in range(0, len(drawn), 2):
        yield Piece(_charts(on, drawn[first : first + 2]), above_mm=3.0)
    worse = surely_worse(trends)
    for by, (title, group) in _tables().items():
        rows = [it for it in trends if it.by == by and (it in worse or _tells(it))]
        if rows:
            yield title_piece(title, level=2)
            yield from _table(on, rows, group, worse)


def _tables() -> dict[Grouping, tuple[str, str]]:
    """Give the title of each table, and of its column of groups."""
    return {
        "crew": (_("By crew; in bold what is surely worse than all together"), _("crew")),
        "batch": (_("Batches that are surely worse than all together"), _("batch")),
        "support class": (_("By support class"), _("class")),
        "heading": (_("Headings that are surely worse, or surely change"), _("heading")),
    }


def worse_words(trends: Sequence[TrendTold]) -> str:
    """Say which crews and batches are surely worse than all together, and by what."""
    found = [it for it in surely_worse(trends) if it.by in ("crew", "batch")]
    return "; ".join(f"{it.group}: {_(it.title)}, {_in_all(it)}" for it in found)


def worsening_words(trends: Sequence[TrendTold]) -> str:
    """Say in which headings something surely goes the way that nobody wants."""
    found = [it for it in trends if it.by == "heading" and _surely_worsens(it)]
    return "; ".join(f"{it.group}: {_(it.title)}, {_course(it)}" for it in found)


def _surely_worsens(it: TrendTold) -> bool:
    wanted = measure(it.key).wanted
    if it.slope is None or wanted == "as it is" or not _surely_changes(it):
        return False
    return (it.slope.per_year < 0) is (wanted == "more")


def surely_worse(trends: Sequence[TrendTold]) -> list[TrendTold]:
    """Give the groups whose interval at 95 % lies on the worse side of that of all together.

    Readings of classes and headings are not compared: each has limits of its own.
    """
    whole = {it.key: it for it in trends if it.by == "mine"}
    comparable = [it for it in trends if it.by in ("crew", "batch") or it.in_all is not None]
    return [it for it in comparable if it.by != "mine" and _is_worse(it, whole.get(it.key))]


def _is_worse(it: TrendTold, whole: TrendTold | None) -> bool:
    one, all_of = _sure(it), _sure(whole) if whole else None
    if one is None or all_of is None:
        return False
    wanted = measure(it.key).wanted
    below, above = one.high < all_of.low, one.low > all_of.high
    return (below and wanted == "more") or (above and wanted == "less")


def _sure(it: TrendTold) -> Interval | None:
    if it.in_all is not None:
        return _interval(it.in_all.low, it.in_all.high)
    return _interval(it.median_low, it.median_high)


def _tells(it: TrendTold) -> bool:
    """Tell whether a group is shown that does not stand apart: many say much of nothing."""
    if it.by in ("crew", "support class"):
        return it.in_all is not None or it.median is not None
    return it.by == "heading" and _surely_changes(it)


def _surely_changes(it: TrendTold) -> bool:
    lasted = it.ended_at - it.began_at
    return it.slope is not None and it.slope.is_sure and lasted >= LEAST_TIME


def _charts(on: Laying, pair: Sequence[TrendTold]) -> Block:
    wide = (on.wide_mm - GUTTER_MM) / 2
    drawn = [(_chart(on, it), broken(_said(it, on), SMALL, wide, MOST_LINES)) for it in pair]
    high = CHART_MM + GAP_MM + max(len(lines) for _, lines in drawn) * line_mm(SMALL.size_pt)

    def paint(pen: PdfPen, top: float) -> None:
        for number, (chart, lines) in enumerate(drawn):
            left = EDGE_MM + number * (wide + GUTTER_MM)
            paint_chart(pen, chart, (left, top), (wide, CHART_MM))
            set_lines(pen, lines, (left, top + CHART_MM + GAP_MM), SMALL)

    return Block(high, paint)


def _chart(on: Laying, it: TrendTold) -> Chart:
    """Draw the last months, beside the limits of all of them."""
    series, zone = _series(it), ZoneInfo(on.facts.zone)
    months = all_in_sight(series.points, on.facts.as_at, zone).whole[-SHOWN:]
    return replace(trend_chart(series, months, zone).chart, title=_name(it))


def _name(it: TrendTold) -> str:
    return ", ".join(filter(None, (_(it.title), it.group)))


def _said(it: TrendTold, on: Laying) -> str:
    """Say below a chart what it shows: how it stands, which way it goes, its limits."""
    series = _series(it)
    at = at_words(series.measure, _point(it.stands), ZoneInfo(on.facts.zone))
    stands = _("{at}: {value}").format(at=at, value=_stands(it))
    said = (stands, _in_all(it), _course(it), _compared(it), limits_words(series))
    return " ".join(sentence(words) for words in said if words)


def _stands(it: TrendTold) -> str:
    said = value_words(measure(it.key), _point(it.stands))
    return ", ".join(filter(None, (said, it.stands.place)))


def _in_all(it: TrendTold) -> str:
    """Say what tells one group from another: a share of everything, or a median."""
    what = measure(it.key)
    if it.in_all is not None:
        return share_said(what, _point(it.in_all))
    if it.median is None:
        return ""
    sure = _interval(it.median_low, it.median_high)
    return middle_said(what, Middle(it.median, sure, it.points))


def _course(it: TrendTold) -> str:
    what, slope = measure(it.key), it.slope
    unit = "" if what.summary == "count" else _(what.unit)
    sure = (slope.per_year, Interval(slope.low, slope.high)) if slope else None
    return course_said(sure, it.ended_at - it.began_at, unit)


def _compared(it: TrendTold) -> str:
    if it.slope is None:
        return ""
    if it.slope.places > 1:
        return _("{n} places, each compared with itself alone").format(n=it.slope.places)
    if it.headings > 1:
        said = _("{n} headings together: what is looked at may have changed")
        return said.format(n=it.headings)
    return ""


def _table(
    on: Laying, trends: Sequence[TrendTold], group: str, worse: Sequence[TrendTold]
) -> list[Piece]:
    zone = ZoneInfo(on.facts.zone)
    columns = (
        Column(_("what"), 42),
        Column(group, 26),
        Column(_("since the record began"), 46),
        Column(_("last"), 40),
        Column(_("in a year"), 40),
    )
    rows = [
        Row(
            (
                _(it.title),
                it.group,
                _in_all(it) or NOT_SAID,
                f"{at_words(measure(it.key), _point(it.stands), zone)}: {_stands(it)}",
                _course(it),
            ),
            bold=it in worse,
        )
        for it in trends
    ]
    return table(columns, rows, on.wide_mm, nothing="")


def _series(it: TrendTold) -> Series:
    """Give what is drawn as the screens draw it."""
    what = measure(it.key)
    points = tuple(map(_point, it.drawn))
    outside = frozenset(number for number, one in enumerate(it.drawn) if one.asks_why)
    return Series(what, it.group, points, _limits(it, what), outside=outside)


def _limits(it: TrendTold, what: Measure) -> ControlChart | None:
    chart = individuals_chart([one.value for one in it.drawn], what.step)
    return chart if it.limits is not None and isinstance(chart, ControlChart) else None


def _point(it: ValueTold) -> Point:
    of = Decimal(1) if it.of is None else it.of
    return Point(it.at, it.value, (), of, _interval(it.low, it.high), it.place)


def _interval(low: Decimal | None, high: Decimal | None) -> Interval | None:
    return None if low is None or high is None else Interval(low, high)
