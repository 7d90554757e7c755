"""A trend in words: its newest value, which way it goes, and what asks for its reason."""

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal
from typing import Final
from zoneinfo import ZoneInfo

from assets.translate import _
from fieldapp.assess.statistics.interval import Interval
from fieldapp.assess.statistics.median_interval import Middle
from fieldapp.assess.statistics.trend import Period
from fieldapp.report.words.findings import NO_BREAK, day, month
from fieldapp.work.trends import Measure, Point, Series
from schemas.numbers import text

LEAST_TIME: Final = timedelta(days=60)
"""What changed within less says nothing of a year. Common practice, no source."""
_POOLED: Final[dict[Period, str]] = {
    "month": _("too many readings to compare all: medians of each month"),
    "quarter": _("too many readings to compare all: medians of each quarter"),
    "year": _("too many readings to compare all: medians of each year"),
}


def figure_words(measure: Measure, point: Point) -> str:
    """Give a value with its unit."""
    return _with_unit(measure, text(point.value), NO_BREAK)


def _with_unit(measure: Measure, said: str, gap: str = " ") -> str:
    """Give a value or limits with the unit; a grade is said before its number: "grade 4"."""
    unit = _(measure.unit)
    return f"{unit}{gap}{said}" if measure.unit == "grade" else f"{said}{gap}{unit}"


def value_words(measure: Measure, point: Point) -> str:
    """Give a value with its unit, and how sure a share is."""
    sure, said = sure_words(point), figure_words(measure, point)
    return f"{said} ({sure})" if sure else said


def sure_words(point: Point) -> str:
    """Say how sure a share is; nothing where that isn't known."""
    if point.interval is None:
        return ""
    low, high = text(point.interval.low), text(point.interval.high)
    return _("{low} to {high} %, 95 % sure").format(low=low, high=high)


def middle_words(series: Series) -> str:
    """Say the middle, of how many readings, and how sure it is; nothing where none is said."""
    found = series.middle
    return middle_said(series.measure, found) if found else ""


def middle_said(measure: Measure, found: Middle) -> str:
    """Say a middle, of how many readings, and how sure it is."""
    said = _("median {value}, n = {n}").format(
        value=_with_unit(measure, text(found.median)), n=found.figures
    )
    if found.interval is None:
        return _("{said} (too few for an interval)").format(said=said)
    low, high = text(found.interval.low), text(found.interval.high)
    return _("{said} ({low} to {high}, 95 % sure)").format(said=said, low=low, high=high)


def in_all_words(series: Series) -> str:
    """Say a share of all months together; nothing where none is told."""
    point = series.in_all
    return share_said(series.measure, point) if point else ""


def share_said(measure: Measure, point: Point) -> str:
    """Say a share with how much it is of: "64.2 % of 81 in all"; and how sure it is."""
    value, of = figure_words(measure, point), text(point.of)
    sure = sure_words(point)
    said = _("{value} of {n} in all").format(value=value, n=of)
    return f"{said} ({sure})" if sure else said


def stands_words(series: Series) -> str:
    """Say what it stands at, with its doubt; of places, which of them that is."""
    point = series.stands
    said = value_words(series.measure, point)
    named = point.place if series.measure.of_places else ""
    return ", ".join(filter(None, (said, named)))


def at_words(measure: Measure, point: Point, zone: ZoneInfo) -> str:
    """Give when a point is: its month, or its day."""
    return day(point.at, zone) if measure.summary == "each" else month(point.at, zone)


def course_words(series: Series) -> str:
    """Say which way it goes in a year; nothing where the readings don't tell."""
    trend = series.trend
    unit = "" if series.measure.summary == "count" else _(series.measure.unit)
    slope = None if trend is None or trend.interval is None else (trend.per_year, trend.interval)
    return course_said(slope, series.newest.at - series.points[0].at, unit)


def course_said(slope: tuple[Decimal, Interval] | None, lasted: timedelta, unit: str) -> str:
    """Say which way something goes in a year by its slope, and over how long it was read."""
    if slope is None:
        return _("too few to tell a trend")
    if lasted < LEAST_TIME:
        return _("too short a time to tell a trend")
    per_year, sure = slope
    if sure.low == sure.high == 0:
        return _("no sure trend")
    facts = {
        "low": text(sure.low),
        "high": text(sure.high),
        "unit": f" {unit}" if unit else "",
        "much": text(abs(per_year)),
    }
    if sure.low <= 0 <= sure.high:
        return _("no sure trend ({low} to {high}{unit} a year)").format(**facts)
    if per_year > 0:
        return _("rises by {much}{unit} a year ({low} to {high})").format(**facts)
    return _("falls by {much}{unit} a year ({low} to {high})").format(**facts)


def compared_words(series: Series) -> str:
    """Say of how many places a slope is, and what was summed up for it; nothing of one alone."""
    return "; ".join(_compared(series))


def _compared(series: Series) -> Iterator[str]:
    trend = series.trend
    if trend is None or trend.interval is None:
        return
    headings = len({it.heading_id for point in series.points for it in point.evidence})
    if trend.places > 1:
        yield _("{n} places, each compared with itself alone").format(n=trend.places)
    elif headings > 1:
        yield _("{n} headings together: what is looked at may have changed").format(n=headings)
    if trend.pooled is not None:
        yield _(_POOLED[trend.pooled])


def usual(series: Series) -> tuple[Decimal, Decimal]:
    """Give the control limits; none below nought where nothing that was read can be.

    Raises
    ------
    ValueError
        The series has no limits: a bug.
    """
    chart = series.chart
    if chart is None:
        raise ValueError(f"{series.measure.key} has no control limits")
    positive = all(it.value >= 0 for it in series.points)
    return max(chart.lower, Decimal(0)) if positive else chart.lower, chart.upper


def limits_words(series: Series) -> str:
    """Say the control limits and how many points lie outside them or in a run."""
    chart = series.chart
    if chart is None:
        return ""
    lower, upper = usual(series)
    between = _("{least} to {most}").format(least=text(lower), most=text(upper))
    said = _("usually {between}").format(between=_with_unit(series.measure, between))
    if not chart.settled:
        said = _("{said}, limits for now only").format(said=said)
    found = len(series.outside)
    if not found:
        return _("{said}; all within").format(said=said)
    return _("{said}; {n} outside or in a run").format(said=said, n=found)


def why_asked(series: Series, number: int) -> str:
    """Say why a point asks for its reason; nothing where it doesn't."""
    chart = series.chart
    if chart is None or number not in series.outside:
        return ""
    if number in chart.outside:
        return _("outside its limits: ask why")
    if number in chart.jumps:
        return _("far from the one before: ask why")
    return _("in a run on one side of the middle: ask why")
