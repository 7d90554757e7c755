"""How what is followed went up to the report's time, in the mine or one heading and by group."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Final, TypeAlias

from fieldapp.work.known import Known
from fieldapp.work.reporting.told_of_trends import LimitsTold, SlopeTold, TrendTold, ValueTold
from fieldapp.work.site import Timed
from fieldapp.work.trends import OF_SUPPORT, Grouping, Measure, Point, Sample, Series, samples_of
from fieldapp.work.trends.summing import Months, series_of
from schemas.bodies.heading import Heading

OF_SEVERAL: Final[tuple[Grouping, ...]] = (
    "mine",
    "crew",
    "batch",
    "support class",
    "heading",
)
OF_ONE: Final[tuple[Grouping, ...]] = ("mine", "crew", "batch")
"""In a report of one heading everything is of that heading."""

Sampled: TypeAlias = dict[Measure, list[Sample]]


def take_in(samples: Sampled, sight: Timed, place: Known[Heading]) -> None:
    """Add everything of one heading from which trends are made."""
    for what in OF_SUPPORT:
        samples.setdefault(what, []).extend(samples_of(sight, what, place))


def trends_told(
    samples: Mapping[Measure, Sequence[Sample]], ways: Sequence[Grouping], months: Months
) -> tuple[TrendTold, ...]:
    """Tell of each measure of which anything is known, all together first."""
    return tuple(
        _told(series, by)
        for what in OF_SUPPORT
        for by in ways
        for series in series_of(what, samples.get(what, ()), by, months)
    )


def _told(series: Series, by: Grouping) -> TrendTold:
    what, middle = series.measure, series.middle
    sure = middle.interval if middle else None
    return TrendTold(
        key=what.key,
        title=what.title,
        unit=what.unit,
        by=by,
        group=series.group,
        headings=len({it.heading_id for point in series.points for it in point.evidence}),
        points=len(series.points),
        began_at=series.points[0].at,
        ended_at=series.newest.at,
        stands=_value(what, series.stands),
        in_all=_value(what, series.in_all) if series.in_all else None,
        median=middle.median if middle else None,
        median_low=sure.low if sure else None,
        median_high=sure.high if sure else None,
        slope=_slope(series),
        limits=_limits(series),
        drawn=tuple(_drawn(series)) if by == "mine" else (),
    )


def _drawn(series: Series) -> Iterator[ValueTold]:
    for number, point in enumerate(series.points):
        asks = number in series.outside
        yield _value(series.measure, point).model_copy(update={"asks_why": asks})


def _value(what: Measure, point: Point) -> ValueTold:
    sure = point.interval
    return ValueTold(
        at=point.at,
        value=point.value,
        of=point.of if what.summary == "share" else None,
        low=sure.low if sure else None,
        high=sure.high if sure else None,
        place=point.place if what.of_places else "",
    )


def _slope(series: Series) -> SlopeTold | None:
    found = series.trend
    if found is None or found.interval is None:
        return None
    sure = found.interval
    return SlopeTold(per_year=found.per_year, low=sure.low, high=sure.high, places=found.places)


def _limits(series: Series) -> LimitsTold | None:
    chart = series.chart
    if chart is None:
        return None
    return LimitsTold(
        lower=chart.lower, middle=chart.middle, upper=chart.upper, settled=chart.settled
    )
