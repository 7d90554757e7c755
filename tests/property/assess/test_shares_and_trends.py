"""Intervals hold the estimate and shrink with tests; trends follow what is read."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess.statistics.proportion import clopper_pearson, wilson
from fieldapp.assess.statistics.trend import Dated, Slopes, slopes

BEGAN = datetime(2031, 5, 6, tzinfo=UTC)
NINETY_FIVE = Decimal("0.95")
TESTED = st.integers(1, 200).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n)))
READINGS = st.lists(
    st.tuples(st.integers(0, 3_000), st.integers(-500, 500)), min_size=2, max_size=9
)


@settings(max_examples=50)
@given(TESTED)
def test_an_interval_holds_the_share_and_the_exact_one_reaches_as_far(
    tested: tuple[int, int],
) -> None:
    bad, of = tested
    exact, score = clopper_pearson(bad, of, NINETY_FIVE), wilson(bad, of, NINETY_FIVE)
    half_a_step = Decimal("0.00005")

    for it in (exact, score):
        assert it.low - half_a_step <= Decimal(bad) / of <= it.high + half_a_step
    assert 0 <= exact.low <= exact.high <= 1


@settings(max_examples=50)
@given(READINGS, st.integers(-9, 9), st.integers(-9, 9))
def test_a_trend_follows_what_is_added_to_every_reading(
    readings: list[tuple[int, int]], offset: int, per_day: int
) -> None:
    before = found(readings)
    after = found([(day, value + offset + per_day * day) for day, value in readings])

    if isinstance(before, Slopes):
        assert isinstance(after, Slopes)
        assert abs(after.median - before.median - per_day * 365.25) < 1e-6 * (
            1 + abs(after.median)
        )
        assert before.low <= before.median <= before.high


def found(readings: list[tuple[int, int]]) -> object:
    return slopes(
        [Dated(BEGAN + timedelta(days=day), Decimal(value)) for day, value in readings],
        NINETY_FIVE,
    )
