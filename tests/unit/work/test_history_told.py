"""A month's report of the demo's past: its reader sees what the simulator put in, and no more.

The truth stands in `fieldapp/work/demo/history/truth.py`.
"""

from zoneinfo import ZoneInfo

import pytest

from fieldapp.report.pages.trend_pieces import surely_worse, worsening_words
from fieldapp.work.demo.history.truth import BAD_RESIN, CREW_C, WET
from fieldapp.work.headings import headings
from fieldapp.work.reporting.told_of_trends import TrendTold
from fieldapp.work.reporting.trended import OF_SEVERAL, Sampled, take_in, trends_told
from fieldapp.work.trends.summing import Months
from tests.past import Past


@pytest.fixture
def told(past: Past) -> tuple[TrendTold, ...]:
    samples: Sampled = {}
    for place in headings(past.site):
        take_in(samples, past.site, place)
    return trends_told(samples, OF_SEVERAL, Months(ZoneInfo("UTC"), past.now))


def test_the_crew_in_a_hurry_and_the_bad_batch_are_named_as_worse_and_no_other(
    told: tuple[TrendTold, ...],
) -> None:
    worse = {(it.by, it.group): it for it in surely_worse(told) if it.by in ("crew", "batch")}

    assert set(worse) == {("crew", CREW_C.name), ("batch", BAD_RESIN.label)}


def test_the_wet_stretch_is_where_the_steel_is_thinnest_and_surely_goes(
    told: tuple[TrendTold, ...],
) -> None:
    (steel,) = (it for it in told if it.key == "steel-left" and it.group == WET.heading)

    assert worsening_words(told).startswith(f"{WET.heading}: Thinnest steel read, falls by ")
    assert worsening_words(told).count(":") == 1, "nothing else gets surely worse"
    assert steel.stands.place.startswith(WET.heading)
    from_m = float(steel.stands.place.removeprefix(f"{WET.heading}, ").split()[0])
    assert WET.from_m <= from_m < WET.to_m
