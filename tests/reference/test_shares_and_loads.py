"""Shares with their intervals, characteristic loads, trends and charts."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

import numpy as np
import pytest
from scipy.stats import theilslopes

from fieldapp.assess.statistics.characteristic import (
    Characteristic,
    by_en_1990,
    by_iso_16269_6,
    k_n,
    tolerance_factor,
)
from fieldapp.assess.statistics.control_chart import ControlChart, individuals_chart
from fieldapp.assess.statistics.interval import Interval
from fieldapp.assess.statistics.proportion import wilson
from fieldapp.assess.statistics.trend import Dated, Slopes, slopes
from tests.reference.record import reference

NINETY_FIVE = Decimal("0.95")
PULLED = [98, 105, 88, 110, 76, 101, 95, 92]


def interval(low: str, high: str) -> Interval:
    return Interval(Decimal(low), Decimal(high))


def loads(*kn: float) -> list[Decimal]:
    return [Decimal(str(it)) for it in kn]


@reference("Newcombe (1998), table I, score method; the last four by the formula", "from memory")
@pytest.mark.parametrize(
    ("bad", "tested", "low", "high"),
    [(15, 148, "0.0624", "0.1605"), (0, 20, "0.0000", "0.1611"), (1, 29, "0.0061", "0.1718"),
     (3, 80, "0.0128", "0.1045"), (0, 30, "0.0000", "0.1135"), (2, 24, "0.0232", "0.2585"),
     (12, 240, "0.0288", "0.0853")],
)  # fmt: skip
def test_score_intervals(bad: int, tested: int, low: str, high: str) -> None:
    assert wilson(bad, tested, NINETY_FIVE) == interval(low, high)


@reference("EN 1990:2002, table D1 (it prints up to 0.016 less than its formula)", "from memory")
def test_factors_of_en_1990() -> None:
    assert k_n(8, v_known=False) == pytest.approx(2.009504, abs=1e-5)


@reference("ISO 16269-6, one-sided, 95 % at 95 % and at 75 % confidence", "from memory")
def test_factors_of_iso_16269_6() -> None:
    at_75 = {3: 3.15, 5: 2.46, 10: 2.10, 15: 1.99, 20: 1.93, 30: 1.87, 50: 1.81, 100: 1.76}
    known = {1: 3.28971, 3: 2.59451, 10: 2.165, 30: 1.94516}

    assert {n: tolerance_factor(n, Decimal("0.75")) for n in at_75} == pytest.approx(
        at_75, abs=6e-3
    )
    assert {n: tolerance_factor(n, NINETY_FIVE, sigma_known=True) for n in known} == pytest.approx(
        known, abs=1e-4
    )


@reference("Mean 95.6, s 10.6 kN, proof 80: by EN 1990 74.3, by 95/95 61.9 kN", "closed form")
def test_the_mean_less_1_645_s_is_no_characteristic_value() -> None:
    by_en = by_en_1990(loads(*PULLED), "normal")
    by_iso = by_iso_16269_6(loads(*PULLED), "normal", NINETY_FIVE)

    assert isinstance(by_en, Characteristic)
    assert isinstance(by_iso, Characteristic)
    assert (by_en.value_kn, by_iso.value_kn) == (Decimal("74.3"), Decimal("61.9"))
    assert np.mean(PULLED) - 1.645 * np.std(PULLED, ddof=1) == pytest.approx(78.2, abs=0.05)


@reference("SciPy, scipy.stats.theilslopes", "published")
@pytest.mark.parametrize(
    ("days", "values"),
    [([0, 31, 59, 90, 120, 151], ["5.6", "5.58", "5.61", "5.5", "5.49", "5.2"]),
     ([0, 31, 31, 59, 90, 90, 120], ["5", "4", "4", "4", "3", "5", "2"]),
     ([0, 400, 800, 900, 1200, 1300, 1301, 1900], ["0", "90", "700", "190", "260", "250", "290",
                                                   "400"])],
)  # fmt: skip
def test_a_trend_is_the_median_of_all_slopes(days: list[int], values: list[str]) -> None:
    began = datetime(2031, 5, 6, tzinfo=UTC)
    readings = [
        Dated(began + timedelta(days=day), Decimal(value))
        for day, value in zip(days, values, strict=True)
    ]
    theirs = theilslopes([float(it) for it in values], np.array(days) / 365.25, 0.95)
    ours = slopes(readings, NINETY_FIVE)

    assert isinstance(ours, Slopes)
    assert (ours.median, ours.low, ours.high) == pytest.approx((theirs[0], theirs[2], theirs[3]))


@reference("NIST/SEMATECH e-Handbook, 6.3.2.2: ten flow rates", "from memory")
def test_a_chart_of_single_values() -> None:
    rates = loads(49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1)
    chart = individuals_chart(rates, Decimal("0.0001"))

    assert isinstance(chart, ControlChart)
    assert float(chart.middle) == pytest.approx(50.81)
    assert float(chart.mean_range) == pytest.approx(1.8778)
    assert float(chart.upper) == pytest.approx(55.8041, abs=1e-3)
    assert float(chart.lower) == pytest.approx(45.8159, abs=1e-3)
    assert float(chart.range_upper) == pytest.approx(3.267 * 1.8778, abs=1e-3)
    assert not (*chart.outside, *chart.jumps, *chart.runs)
    assert not chart.settled
