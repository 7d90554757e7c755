"""What is followed of the work: how long a round takes, how fast mesh goes up, what a metre costs.

By crew and method, never by name. A crew that is faster may be a crew in a hurry.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Final

from fieldapp.work.known import Known
from fieldapp.work.site import Timed
from fieldapp.work.trends.of_rounds import round_sample
from fieldapp.work.trends.points import Measure, Sample
from fieldapp.work.trends.round_figures import RoundFigures, round_figures
from schemas.bodies.heading import Heading

_TENTH: Final = Decimal("0.1")
_MINUTES_AN_HOUR: Final = 60

MINUTES: Final = Measure(
    "minutes-per-round",
    "Minutes per round",
    "min",
    "each",
    Decimal(1),
    "as it is",
    charted=True,
    has_middle=True,
)
MESHED: Final = Measure(
    "meshed-per-hour",
    "Mesh put up per hour",
    "m²/h",
    "each",
    _TENTH,
    "as it is",
    charted=True,
    has_middle=True,
)
COST: Final = Measure(
    "cost-per-metre",
    "Cost per metre",
    "per m",
    "each",
    Decimal(1),
    "less",
    charted=True,
    has_middle=True,
)
BEYOND: Final = Measure(
    "beyond-last-row", "Rounds with somebody beyond the last row", "%", "share", _TENTH, "less"
)


PACE: Final = (MINUTES, MESHED, COST)
"""What tells one heading and method from another."""


def minutes(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield how long each round took, delays and all."""
    return pace(MINUTES, place, round_figures(site, place.id))


def meshed(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield how many square metres of mesh went up in an hour."""
    return pace(MESHED, place, round_figures(site, place.id))


def costs(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield what a metre cost, of rounds of which everything is stated that has a price."""
    return pace(COST, place, round_figures(site, place.id))


def pace(
    what: Measure, place: Known[Heading], several: Iterable[RoundFigures]
) -> Iterator[Sample]:
    """Yield one of the three of each round of a heading that states enough for it.

    Sums in different currencies are groups of their own.
    """
    for it in several:
        value = _OF_ROUND[what.key](it)
        if value is not None:
            sample = round_sample(place, it, value)
            yield _by_currency(sample, it.currency) if what is COST else sample


def beyond(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield 1 for a round in which somebody went beyond the last row; 0 where nobody did."""
    for it in round_figures(site, place.id):
        if it.beyond_last_row is not None:
            yield round_sample(place, it, Decimal(it.beyond_last_row))


def _minutes(it: RoundFigures) -> Decimal | None:
    return None if it.minutes is None else Decimal(it.minutes)


def _meshed(it: RoundFigures) -> Decimal | None:
    if it.minutes is None or not it.meshed_m2:
        return None
    return it.meshed_m2 * _MINUTES_AN_HOUR / it.minutes


def _by_currency(sample: Sample, currency: str | None) -> Sample:
    groups = {by: ", ".join(filter(None, (it, currency))) for by, it in sample.groups.items()}
    return replace(sample, groups=groups)


_OF_ROUND: Final[Mapping[str, Callable[[RoundFigures], Decimal | None]]] = {
    MINUTES.key: _minutes,
    MESHED.key: _meshed,
    COST.key: lambda it: it.cost_per_m,
}
