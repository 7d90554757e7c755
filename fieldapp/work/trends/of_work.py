"""What is followed of the work: how long a round takes, how fast mesh goes up, what a metre costs.

By crew and method, never by name. A crew that is faster may be a crew in a hurry.
"""

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from typing import Final

from fieldapp.work.known import Known
from fieldapp.work.site import Site
from fieldapp.work.trends.of_rounds import round_sample
from fieldapp.work.trends.points import Measure, Sample
from fieldapp.work.trends.round_figures import round_figures
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


def minutes(site: Site, place: Known[Heading]) -> Iterator[Sample]:
    """Yield how long each round took, delays and all."""
    for it in round_figures(site, place.id):
        if it.minutes is not None:
            yield round_sample(place, it, Decimal(it.minutes))


def meshed(site: Site, place: Known[Heading]) -> Iterator[Sample]:
    """Yield how many square metres of mesh went up in an hour."""
    for it in round_figures(site, place.id):
        if it.minutes is not None and it.meshed_m2:
            yield round_sample(place, it, it.meshed_m2 * _MINUTES_AN_HOUR / it.minutes)


def costs(site: Site, place: Known[Heading]) -> Iterator[Sample]:
    """Yield what a metre cost, of rounds of which everything is stated that has a price.

    Sums in different currencies are groups of their own.
    """
    for it in round_figures(site, place.id):
        if it.cost_per_m is not None:
            sample = round_sample(place, it, it.cost_per_m)
            groups = {
                by: ", ".join(filter(None, (name, it.currency)))
                for by, name in sample.groups.items()
            }
            yield replace(sample, groups=groups)


def beyond(site: Site, place: Known[Heading]) -> Iterator[Sample]:
    """Yield 1 for a round in which somebody went beyond the last row; 0 where nobody did."""
    for it in round_figures(site, place.id):
        if it.beyond_last_row is not None:
            yield round_sample(place, it, Decimal(it.beyond_last_row))
