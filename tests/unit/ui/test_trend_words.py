"""What the screens of trends say of a group: what tells it from another, not its last month."""

from datetime import UTC, datetime
from decimal import Decimal
from zoneinfo import ZoneInfo

from fieldapp.report.words.findings import NO_BREAK
from fieldapp.ui.trend_work import group_words, series_words
from fieldapp.work.trends import Evidence, Measure, Series
from fieldapp.work.trends.points import Sample
from fieldapp.work.trends.summing import Months, series_of

UTC_ZONE = ZoneInfo("UTC")
NOW = datetime(2031, 6, 30, 12, tzinfo=UTC)
HASTE = Measure("haste", "In haste", "%", "share", Decimal("0.1"), "less")


def of_crew(*months: str) -> Series:
    """A round for each letter of a month's word, in haste where it is an h."""
    samples = [
        Sample(
            datetime(2031, month, day, tzinfo=UTC),
            Decimal(letter == "h"),
            Evidence("round", f"{month}-{day}", "h", f"round {day}"),
            {"crew": "crew C"},
        )
        for month, word in enumerate(months, start=1)
        for day, letter in enumerate(word, start=1)
    ]
    (found,) = series_of(HASTE, samples, "crew", Months(UTC_ZONE, NOW))
    return found


def test_a_crew_is_told_from_another_by_all_its_rounds_and_not_by_its_last_month() -> None:
    """Eight rounds in haste, and then a month with a single one that wasn't."""
    crew = of_crew("hhhhh", "hhh", "-")

    # Clopper-Pearson of 8 of 9, 95 %: 51.8 to 99.7 %
    assert f"88.9{NO_BREAK}% of 9 in all (51.8 to 99.7 %, 95 % sure)" in group_words(crew)
    assert f"88.9{NO_BREAK}% of 9 in all" in series_words(crew, UTC_ZONE)
    assert series_words(crew, UTC_ZONE).startswith(f"Mar 2031: 0.0{NO_BREAK}%")
