"""Trends: what is followed over months, by heading, support class, crew, method or section.

Never by name: what a crew does is the crew's to mend. A trend is no verdict; whoever wants to
know why goes from a point to what it stands on.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final
from zoneinfo import ZoneInfo

from fieldapp.work.authority import at_one_state
from fieldapp.work.headings import heading, headings
from fieldapp.work.known import Known
from fieldapp.work.site import Timed
from fieldapp.work.trends import of_damage, of_rounds, of_tests, of_walks, of_work
from fieldapp.work.trends.points import (
    GROUPINGS,
    Evidence,
    Grouping,
    Measure,
    Point,
    Sample,
    Series,
)
from fieldapp.work.trends.summing import Months, series_of
from schemas.bodies.heading import Heading
from schemas.trouble import BadInput

__all__ = [
    "GROUPINGS",
    "MEASURES",
    "OF_SUPPORT",
    "Evidence",
    "Followed",
    "Grouping",
    "Measure",
    "NoSuchTrend",
    "Point",
    "Sample",
    "Series",
    "followed",
    "measure",
    "samples_of",
    "trends",
]

Gather = Callable[[Timed, Known[Heading]], Iterator[Sample]]

_GATHERED: Final[tuple[tuple[Measure, Gather], ...]] = (
    (of_rounds.COVERAGE, of_rounds.covered),
    (of_rounds.FIRST_PASS, of_rounds.first_pass),
    (of_rounds.TO_FACE, of_rounds.to_face),
    (of_rounds.GAP, of_rounds.gaps),
    (of_rounds.LAP, of_rounds.laps),
    (of_rounds.HASTE, of_rounds.in_haste),
    (of_work.MINUTES, of_work.minutes),
    (of_work.MESHED, of_work.meshed),
    (of_work.COST, of_work.costs),
    (of_work.BEYOND, of_work.beyond),
    (of_tests.PASSED, of_tests.passed),
    (of_tests.LOAD, of_tests.loads),
    (of_damage.FOUND, of_damage.found),
    (of_damage.REPAIRED, of_damage.repaired),
    (of_damage.OVERDUE, of_damage.overdue),
    (of_walks.WORN, of_walks.worn),
    (of_walks.RUST, of_walks.rusted),
    (of_walks.GRADE, of_walks.grades),
    (of_walks.STEEL, of_walks.steel),
    (of_walks.REACHED, of_walks.reached),
)
MEASURES: Final = tuple(it for it, _ in _GATHERED)
OF_SUPPORT: Final = tuple(
    it
    for it, _ in _GATHERED
    if it not in (of_work.MINUTES, of_work.MESHED, of_work.COST, of_work.BEYOND)
)
"""What is followed of the support itself; how it was put up is told apart from it."""


@dataclass(eq=False)
class NoSuchTrend(BadInput):
    """Nothing of that name is followed."""

    name: str
    known: str

    happened = "Nothing is followed as {name}."
    kept = "Nothing was changed."
    do_next = "Name one of these: {known}."


def measure(name: str) -> Measure:
    """Find what is followed by its key or title.

    Raises
    ------
    NoSuchTrend
        Nothing is followed so.
    """
    wanted = name.strip().casefold()
    for it in MEASURES:
        if wanted in (it.key, it.title.casefold()):
            return it
    raise NoSuchTrend(name, ", ".join(it.key for it in MEASURES))


def trends(
    site: Timed, what: Measure, by: Grouping, heading_id: str | None = None
) -> tuple[Series, ...]:
    """Give how a measure went, a series for each group; of one heading, where it is named.

    Parameters
    ----------
    site : Timed
        The records.
    what : Measure
        What is followed.
    by : Grouping
        How it is told apart. Where a measure isn't known by it, no series comes.
    heading_id : str or None
        Only of this heading.

    Returns
    -------
    tuple of Series
        Points in time, with control limits and slope where they mean something.
    """
    return followed(site, what, by, heading_id).series


@dataclass(frozen=True)
class Followed:
    """A measure told apart in one way, and in which ways it can be, by what is known of it."""

    series: tuple[Series, ...]
    groupings: tuple[Grouping, ...]


def followed(site: Timed, what: Measure, by: Grouping, heading_id: str | None = None) -> Followed:
    """Give how a measure went as `trends` does, and how else it can be told apart."""
    with at_one_state(site):
        places = [heading(site, heading_id)] if heading_id else headings(site)
        samples = [sample for place in places for sample in samples_of(site, what, place)]
    months = Months(ZoneInfo(site.settings.zone), site.now())
    known = {named for sample in samples for named in sample.groups}
    series = series_of(what, samples, by, months)
    return Followed(series, tuple(it for it in GROUPINGS if it in known))


def samples_of(site: Timed, what: Measure, place: Known[Heading]) -> Iterator[Sample]:
    """Yield everything of one heading from which a measure's points are made."""
    gather = next(gather for it, gather in _GATHERED if it is what)
    return gather(site, place)
