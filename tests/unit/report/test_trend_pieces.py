"""Trends on paper: a chart of all together with its words, and who is surely worse than that."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import Final
from zoneinfo import ZoneInfo

from fieldapp.report.pages.laying import Laying
from fieldapp.report.pages.month_pages import month_pages
from fieldapp.report.pages.trend_pieces import surely_worse, worse_words
from fieldapp.report.reported import code_of
from fieldapp.work.reporting.facts import MonthFacts
from fieldapp.work.reporting.told_of_trends import TrendTold
from fieldapp.work.reporting.trended import OF_SEVERAL, trends_told
from fieldapp.work.trends import Grouping, Measure, Sample
from fieldapp.work.trends.of_rounds import HASTE, TO_FACE
from fieldapp.work.trends.points import Evidence
from fieldapp.work.trends.summing import Months
from tests.unit.report.pages import flat, runs_of, words_of
from tests.unit.report.test_spreadsheet import read
from tests.unit.report.told import month_facts

BEGAN: Final = datetime(2031, 3, 1, tzinfo=UTC)
MONTHS: Final = Months(ZoneInfo("UTC"), datetime(2031, 5, 31, tzinfo=UTC))
HURRIED: Final = "crew C"


def rounds(crew: str, values: str) -> Iterator[Sample]:
    """Yield a round every other day, each with its value."""
    for number, value in enumerate(values.split()):
        evidence = Evidence("round", f"{crew} {number}", "heading", f"round {number}")
        groups: dict[Grouping, str] = {"mine": "", "crew": crew}
        at = BEGAN + timedelta(days=2 * number)
        yield Sample(at, Decimal(value), evidence, groups, place="heading")


def told(what: Measure, **crews: str) -> tuple[TrendTold, ...]:
    samples = [it for name, values in crews.items() for it in rounds(f"crew {name}", values)]
    return trends_told({what: samples}, OF_SEVERAL, MONTHS)


def in_a_hurry() -> tuple[TrendTold, ...]:
    return told(HASTE, A="0 " * 40, C="1 1 0 1 " * 10)


def report(trends: tuple[TrendTold, ...]) -> tuple[MonthFacts, bytes]:
    facts = month_facts(trends=trends)
    on = Laying(facts, code_of(facts), "metres", lambda _: None)
    return facts, month_pages(on, facts, "Month")


def test_the_crew_in_a_hurry_is_named_on_the_first_page_with_its_share_and_doubt() -> None:
    """30 of 40: 58.8 to 87.3 % (Clopper and Pearson, as SciPy's `binomtest` gives it)."""
    _, pdf = report(in_a_hurry())
    said = f"{HURRIED}: Rounds confirmed in haste, 75.0 % of 40 in all (58.8 to 87.3 %, 95 % sure)"

    assert flat(said) in flat(words_of(pdf).split("Month by month")[0])


def test_a_crew_that_is_surely_better_is_not_told_as_worse() -> None:
    assert [it.group for it in surely_worse(in_a_hurry())] == [HURRIED]


def test_what_chance_alone_may_make_tells_no_crew_from_the_others() -> None:
    assert worse_words(told(HASTE, A="0 0 0 0 1", C="0 1 0 0 1")) == ""


def test_a_crew_s_readings_are_compared_by_their_medians() -> None:
    near, far = "0.80 0.81 0.82 0.83 " * 5, "0.97 0.98 0.99 1.00 " * 2
    (worse,) = surely_worse(told(TO_FACE, A=near, C=far))

    assert (worse.group, worse.median) == (HURRIED, Decimal("0.985"))


def test_a_chart_stands_over_what_it_says_and_nothing_lies_over_something_else() -> None:
    facts, pdf = report((*in_a_hurry(), *told(TO_FACE, A="0.80 0.90 " * 12)))
    runs = [it for it in runs_of(pdf, page=2) if it.text.strip()]
    said = flat("".join(it.text for it in runs))

    assert "16Apr2031:0.900m." in said
    assert "Usually0.584to1.116m;allwithin." in said
    assert len(facts.trends) == 5
    assert not [(a, b) for n, a in enumerate(runs) for b in runs[:n] if a.meets(b)]


def test_trends_and_their_points_are_figures_of_a_spreadsheet() -> None:
    """In haste: 12 of 32 rounds in March, 11 of 30 in April, 7 of 18 in May."""
    sheets = read(month_facts(trends=in_a_hurry()))
    hurried = next(it for it in sheets["trends"] if it["group"] == HURRIED)

    assert (hurried["in all value"], hurried["in all of"]) == (75.0, 40.0)
    assert [it["value"] for it in sheets["trend points"]] == [37.5, 36.7, 38.9]
