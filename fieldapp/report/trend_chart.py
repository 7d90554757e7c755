"""A trend as a chart: points in time, their control limits, and how many months are in sight."""

from calendar import monthrange
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final
from zoneinfo import ZoneInfo

from assets.translate import _
from fieldapp.report.chart import Chart, ControlLine
from fieldapp.report.chart import Series as Drawn
from fieldapp.report.words.findings import month
from fieldapp.report.words.trend import usual
from fieldapp.work.trends import Point, Series
from schemas.numbers import text

SPANS: Final = (1, 3, 6, 12, 24, 60)
"""So many months at a time are looked at, or all of them."""


@dataclass(frozen=True)
class InSight:
    """Which months a chart shows, of all that there are. A month counts from the year 0."""

    whole: range
    shown: range

    @property
    def can_come_closer(self) -> bool:
        """Whether fewer months can be looked at."""
        return len(self.shown) > SPANS[0]

    @property
    def is_whole(self) -> bool:
        """Whether everything is in sight."""
        return self.shown == self.whole

    @property
    def has_earlier(self) -> bool:
        """Whether there are months before."""
        return self.shown.start > self.whole.start

    @property
    def has_later(self) -> bool:
        """Whether there are months after."""
        return self.shown.stop < self.whole.stop

    def closer(self) -> "InSight":
        """Look at fewer months, with the same end."""
        fewer = [it for it in SPANS if it < len(self.shown)]
        return self._with(self.shown.stop, fewer[-1] if fewer else len(self.shown))

    def wider(self) -> "InSight":
        """Look at more months, with the same end."""
        more = (it for it in SPANS if it > len(self.shown))
        return self._with(self.shown.stop, next(more, len(self.whole)))

    def earlier(self) -> "InSight":
        """Go back by as many months as are in sight."""
        return self._with(self.shown.start, len(self.shown))

    def later(self) -> "InSight":
        """Go on by as many months as are in sight."""
        return self._with(self.shown.stop + len(self.shown), len(self.shown))

    def _with(self, end: int, months: int) -> "InSight":
        months = min(months, len(self.whole))
        end = max(min(end, self.whole.stop), self.whole.start + months)
        return replace(self, shown=range(end - months, end))


def all_in_sight(points: Sequence[Point], now: datetime, zone: ZoneInfo) -> InSight:
    """Look at every month from the first point to the one that runs."""
    ends = [_month(it.at, zone) for it in points] + [_month(now, zone)]
    whole = range(min(ends), max(ends) + 1)
    return InSight(whole, whole)


@dataclass(frozen=True)
class TrendChart:
    """What is drawn of a series, and which of its points each mark is."""

    chart: Chart
    points: tuple[int, ...]


def trend_chart(series: Series, months: range, zone: ZoneInfo) -> TrendChart:
    """Draw the points of some months, beside the limits of all of them."""
    numbers = tuple(
        number for number, it in enumerate(series.points) if _month(it.at, zone) in months
    )
    return TrendChart(
        Chart(
            title="",
            unit=_(series.measure.unit),
            steps=tuple(_name(it, zone) for it in months),
            series=tuple(_drawn(series, numbers, months, zone)),
            lines=tuple(_lines(series)),
            from_nought=series.measure.summary != "each" or series.measure.step == 1,
        ),
        numbers,
    )


def _drawn(
    series: Series, numbers: Sequence[int], months: range, zone: ZoneInfo
) -> Sequence[Drawn]:
    by_month = series.measure.summary != "each"
    name = _("each month") if by_month else _("each one")
    if any(it.interval for it in series.points):
        name = _("each month; the line: 95 % sure")
    points = Drawn(
        name=name,
        values=tuple(float(series.points[it].value) for it in numbers),
        drawn="points" if _is_one_course(series) else "marks",
        at=tuple(_at(series.points[it], months, zone, by_month=by_month) for it in numbers),
        reach=tuple(_reach(series.points[it]) for it in numbers),
    )
    asked = [it for it, number in enumerate(numbers) if number in series.outside]
    if not asked:
        return (points,)
    values, places = (points.values[it] for it in asked), (points.at[it] for it in asked)
    return points, Drawn(_("ask why"), tuple(values), "marks", tuple(places))


def _is_one_course(series: Series) -> bool:
    """Tell whether one point follows from the one before: readings of many places don't."""
    places = {(it.heading_id, it.chainage_m) for point in series.points for it in point.evidence}
    return series.measure.summary != "each" or series.measure.charted or len(places) == 1


def _at(point: Point, months: range, zone: ZoneInfo, *, by_month: bool) -> float:
    """Give where a point lies in steps from the middle of the first month."""
    local = point.at.astimezone(zone)
    step = float(_month(point.at, zone) - months.start)
    if by_month:
        return step
    days = monthrange(local.year, local.month)[1]
    return step - 0.5 + (local.day - 1 + local.hour / 24) / days


def _reach(point: Point) -> tuple[float, float] | None:
    found = point.interval
    return None if found is None else (float(found.low), float(found.high))


def _lines(series: Series) -> Sequence[ControlLine]:
    """Name the middle and the limits; one that no reading could lie beyond is left out."""
    if series.chart is None:
        return ()
    lower, upper = usual(series)
    lines = [
        ControlLine(_("upper {value}").format(value=text(upper)), float(upper)),
        ControlLine(
            _("middle {value}").format(value=text(series.chart.middle)),
            float(series.chart.middle),
        ),
    ]
    if lower == series.chart.lower:
        lines.append(ControlLine(_("lower {value}").format(value=text(lower)), float(lower)))
    return lines


def _month(at: datetime, zone: ZoneInfo) -> int:
    local = at.astimezone(zone)
    return local.year * 12 + local.month - 1


def _name(number: int, zone: ZoneInfo) -> str:
    year, month_of = divmod(number, 12)
    return month(datetime(year, month_of + 1, 1, tzinfo=zone), zone)
