"""What the screens of trends ask their worker for, and the words they write; no widgets here."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final
from zoneinfo import ZoneInfo

from fieldapp.report.words.findings import BETWEEN, sentence
from fieldapp.report.words.trend import (
    at_words,
    compared_words,
    course_words,
    figure_words,
    in_all_words,
    limits_words,
    middle_words,
    stands_words,
    sure_words,
    why_asked,
)
from fieldapp.ui.names import short
from fieldapp.ui.translate import _, counted
from fieldapp.work.headings import headings
from fieldapp.work.site import Site
from fieldapp.work.trends import (
    Grouping,
    Measure,
    Series,
    followed,
    measure,
    trends,
)
from fieldapp.work.trends.round_figures import round_figures

NOTHING: Final = _("nothing is recorded of it")
WORKING: Final = _("Worked out from what is recorded …")
BY: Final[dict[Grouping, str]] = {
    "mine": _("the whole mine"),
    "heading": _("by heading"),
    "support class": _("by support class"),
    "crew": _("by crew"),
    "method": _("by method"),
    "heading and method": _("by heading and method"),
    "batch": _("by batch"),
    "section": _("by section"),
}
"""How a measure is told apart: never by name."""


@dataclass(frozen=True)
class MeasureLine:
    """One thing that is followed, in words."""

    key: str
    title: str
    detail: str = WORKING
    is_known: bool = False
    """Whether there is anything to be seen of it."""


@dataclass(frozen=True)
class TrendPage:
    """One measure, told apart in one way."""

    measure: Measure
    by: Grouping
    ways: tuple[Grouping, ...]
    """In which it could be told apart."""
    series: tuple[Series, ...]


@dataclass(frozen=True)
class Places:
    """The headings whose rounds are worked out first, each by itself."""

    ids: tuple[str, ...]


def places(site: Site) -> Places:
    """Name the headings."""
    return Places(tuple(it.id for it in headings(site)))


def remember_rounds(site: Site, heading_id: str) -> None:
    """Work out every round of a heading, so that no trend has to: it takes a second or more."""
    round_figures(site, heading_id)


def measure_line(site: Site, what: Measure) -> MeasureLine:
    """Say the newest value of a measure in the whole mine, and which way it goes."""
    found = trends(site, what, "mine")
    title = _(what.title)
    if not found:
        return MeasureLine(what.key, title, sentence(NOTHING))
    series, zone = found[0], ZoneInfo(site.settings.zone)
    at = at_words(what, series.stands, zone)
    said = f"{figure_words(what, series.stands)}, {at}{BETWEEN}{course_words(series)}"
    if series.group:
        said = f"{series.group}: {said}"
    if len(found) > 1:
        said += _("; and {n} more").format(n=len(found) - 1)
    return MeasureLine(what.key, title, said, is_known=True)


def trend_page(site: Site, key: str, by: Grouping) -> TrendPage:
    """Follow a measure, a series for each group."""
    what = measure(key)
    found = followed(site, what, by)
    return TrendPage(what, by, found.groupings, found.series)


def group_name(series: Series) -> str:
    """Name a group; the mine has no name of its own here."""
    return short(series.group) if series.group else _("the whole mine")


def point_words(series: Series, number: int, zone: ZoneInfo) -> tuple[str, str]:
    """Say a point: when and how much, and whether it asks for its reason."""
    point = series.points[number]
    at = at_words(series.measure, point, zone)
    value = figure_words(series.measure, point)
    return f"{at}{BETWEEN}{value}", why_asked(series, number)


def stands_on(series: Series, number: int) -> str:
    """Say why a point asks for its reason, how sure it is, and on how much it stands."""
    return " ".join(sentence(it) for it in _stands_on(series, number) if it)


def _stands_on(series: Series, number: int) -> Iterator[str]:
    point, found = series.points[number], len(series.points[number].evidence)
    yield why_asked(series, number)
    yield sure_words(point)
    if not found:
        yield _("Nothing of it happened then.")
        return
    yield counted("It stands on {} record.", "It stands on {} records.", found)
    if found > 1 and series.measure.summary == "share":
        yield _("What fell short stands first.")


def group_words(series: Series) -> str:
    """Say what tells a group from another, its middle or its share in all, and its course.

    One month of a crew is too little to compare it with another's.
    """
    level = middle_words(series) or in_all_words(series)
    said = level or figure_words(series.measure, series.stands)
    return f"{said}{BETWEEN}{course_words(series)}"


def series_words(series: Series, zone: ZoneInfo) -> str:
    """Say under a chart what it shows: the newest value, the level, its course, its limits."""
    return " ".join(sentence(it) for it in _series_words(series, zone) if it)


def _series_words(series: Series, zone: ZoneInfo) -> Iterator[str]:
    at = at_words(series.measure, series.stands, zone)
    yield _("{at}: {value}").format(at=at, value=stands_words(series))
    yield in_all_words(series)
    yield middle_words(series)
    yield course_words(series)
    yield compared_words(series)
    yield limits_words(series)
