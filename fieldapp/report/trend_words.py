"""A trend in words: its newest value, which way it goes, and what asks for its reason."""

from zoneinfo import ZoneInfo

from fieldapp.report.words import day, month
from fieldapp.work.trends import Measure, Point, Series
from schemas.numbers import text


def value_words(measure: Measure, point: Point) -> str:
    """Give a value with its unit, and how sure a share is."""
    said = f"{text(point.value)}\N{NO-BREAK SPACE}{measure.unit}"
    if point.interval is None:
        return said
    low, high = text(point.interval.low), text(point.interval.high)
    return f"{said} ({low} to {high}\N{NO-BREAK SPACE}%, 95 % sure)"


def at_words(measure: Measure, point: Point, zone: ZoneInfo) -> str:
    """Give when a point is: its month, or its day."""
    return day(point.at, zone) if measure.summary == "each" else month(point.at, zone)


def course_words(series: Series) -> str:
    """Say which way it goes in a year; nothing where the readings don't tell."""
    trend = series.trend
    if trend is None or trend.interval is None:
        return "too few to tell a trend"
    low, high, unit = text(trend.interval.low), text(trend.interval.high), series.measure.unit
    if trend.interval.low <= 0 <= trend.interval.high:
        return f"no sure trend ({low} to {high} {unit} a year)"
    way = "rises" if trend.per_year > 0 else "falls"
    return f"{way} by {text(abs(trend.per_year))} {unit} a year ({low} to {high})"


def limits_words(series: Series) -> str:
    """Say the control limits and how many points lie outside them or in a run."""
    chart = series.chart
    if chart is None:
        return ""
    unit, found = series.measure.unit, len(series.outside)
    said = f"usually {text(chart.lower)} to {text(chart.upper)} {unit}"
    if not chart.settled:
        said += ", limits for now only"
    return f"{said}; {found} outside or in a run" if found else f"{said}; all within"
