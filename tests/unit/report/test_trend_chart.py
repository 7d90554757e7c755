"""A trend's chart: points at their day, limits by name, no mark by colour alone."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from fieldapp.report.chart import frame_of
from fieldapp.report.letters import width_mm
from fieldapp.report.paint.chart import apart, paint_chart
from fieldapp.report.set_text import line_mm
from fieldapp.report.trend_chart import InSight, all_in_sight, trend_chart
from fieldapp.report.words.trend import (
    compared_words,
    course_words,
    figure_words,
    limits_words,
    why_asked,
)
from fieldapp.work.trends import Evidence, Measure, Series
from fieldapp.work.trends.points import Sample
from fieldapp.work.trends.summing import Months, series_of
from tests.unit.report.recording_pen import RecordingPen

UTC_ZONE, SYDNEY = ZoneInfo("UTC"), ZoneInfo("Australia/Sydney")
NOW = datetime(2031, 6, 30, 12, tzinfo=UTC)
READ = Measure("read", "A reading", "m", "each", Decimal("0.001"), "less", charted=True)
SHARE = Measure("share", "A share", "%", "share", Decimal("0.1"), "more")
BOX = (130.0, 70.0)
GLASS_PT = 11.0


def series(what: Measure, *said: tuple[datetime, str]) -> Series:
    samples = [
        Sample(at, Decimal(value), Evidence("round", str(n), "h", f"round {n}"), {"mine": ""})
        for n, (at, value) in enumerate(said)
    ]
    (found,) = series_of(what, samples, "mine", Months(UTC_ZONE, NOW))
    return found


def readings(days: int = 400, step: int = 10, odd: str = "1.2") -> Series:
    """Readings about 0.8 m, and an odd one in the middle."""
    first = NOW - timedelta(days=days)
    values = [str(Decimal("0.78") + Decimal(n % 5) / 100) for n in range(days // step + 1)]
    values[len(values) // 2] = odd
    return series(READ, *((first + timedelta(days=step * n), it) for n, it in enumerate(values)))


def whole(of: Series, zone: ZoneInfo = UTC_ZONE) -> range:
    return all_in_sight(of.points, NOW, zone).shown


def painted(of: Series) -> RecordingPen:
    pen = RecordingPen()
    chart = trend_chart(of, whole(of), UTC_ZONE).chart
    paint_chart(pen, chart, (0.0, 0.0), BOX, GLASS_PT)
    return pen


def test_a_reading_stands_at_its_day_between_the_ends_of_its_month() -> None:
    """16 June, 12:00 is 15.5 of 30 days past the beginning, half a step before the middle."""
    found = series(READ, (datetime(2031, 5, 1, tzinfo=UTC), "0.8"), (NOW.replace(day=16), "0.9"))
    (drawn,) = trend_chart(found, whole(found), UTC_ZONE).chart.series

    assert drawn.at == pytest.approx((-0.5, 0.5 + 15.5 / 30))


def test_a_share_stands_in_the_middle_of_its_month_with_how_sure_it_is() -> None:
    said = [(datetime(2031, 5, day, tzinfo=UTC), "1") for day in (1, 2, 3)]
    found = series(SHARE, *said)
    (drawn,) = trend_chart(found, whole(found), UTC_ZONE).chart.series

    assert drawn.at == (0.0,)
    # Clopper-Pearson of 3 of 3, 95 %: 0.025^(1/3) = 29.2 %
    assert drawn.reach == ((29.2, 100.0),)


def test_the_months_below_are_the_mine_s_own() -> None:
    """14:30 UTC on the last of April is May in Sydney."""
    found = series(READ, (datetime(2031, 4, 30, 14, 30, tzinfo=UTC), "0.8"))

    assert trend_chart(found, whole(found, SYDNEY), SYDNEY).chart.steps[0] == "May 2031"


def test_a_reading_outside_its_limits_has_a_mark_and_a_name_of_its_own() -> None:
    pen = painted(readings())
    asked = [words for words, _, _ in pen.words if words == "ask why"]

    assert asked == ["ask why"]
    assert len(pen.circles) == 3, "the odd one, the jump back, and the legend's"


def test_a_series_with_nothing_odd_has_one_mark_only() -> None:
    pen = painted(readings(odd="0.80"))

    assert not pen.circles
    assert "ask why" not in [words for words, _, _ in pen.words]


def test_why_a_point_is_asked_about_is_said_in_words() -> None:
    odd = readings()
    middle = len(odd.points) // 2

    assert why_asked(odd, middle) == "outside its limits: ask why"
    assert why_asked(odd, middle + 1) == "far from the one before: ask why"
    assert why_asked(odd, 0) == ""


def test_a_grade_is_named_before_its_number() -> None:
    found = readings(odd="0.80")
    grades = replace(found, measure=replace(found.measure, unit="grade"))

    assert figure_words(grades.measure, grades.newest).startswith("grade\N{NO-BREAK SPACE}0.")
    assert limits_words(grades).startswith("usually grade 0.")


def test_middle_and_limits_are_named_and_one_below_nought_is_left_out() -> None:
    wild = readings(odd="9.9")
    names = [it.name.split()[0] for it in trend_chart(wild, whole(wild), UTC_ZONE).chart.lines]
    calm = readings(odd="0.80")
    all_names = [it.name.split()[0] for it in trend_chart(calm, whole(calm), UTC_ZONE).chart.lines]

    assert names == ["upper", "middle"]
    assert limits_words(wild).startswith("usually 0 to ")
    assert all_names == ["upper", "middle", "lower"]


def test_names_of_lines_that_lie_close_are_written_apart() -> None:
    assert apart([10.0, 10.5, 40.0], 5.0, (0.0, 60.0)) == [10.0, 15.0, 40.0]
    assert apart([58.0, 59.0], 5.0, (0.0, 60.0)) == [55.0, 60.0]


def test_no_words_of_a_chart_touch_each_other() -> None:
    for found in (readings(), readings(odd="9.9"), readings(days=45, step=3), readings(20, 20)):
        words = painted(found).words
        boxes = [
            (x - {"left": 0, "middle": 0.5, "right": 1}[kind.align] * wide, y, wide, said)
            for said, (x, y), kind in words
            for wide in (width_mm(said, kind.size_pt),)
        ]
        for number, (x, y, wide, _said) in enumerate(boxes):
            for other_x, other_y, other_wide, _ in boxes[number + 1 :]:
                beside = x + wide <= other_x or other_x + other_wide <= x
                assert beside or abs(y - other_y) >= line_mm(GLASS_PT) * 0.7


def test_everything_lies_within_the_room_that_a_chart_has() -> None:
    pen = painted(readings())
    points = [at for line, _ in pen.strokes for at in line]
    points += [at for _, at, _ in pen.words] + [at for at, _, _ in pen.discs]

    assert all(-0.1 <= x <= BOX[0] + 0.1 and -0.1 <= y <= BOX[1] + 0.1 for x, y in points)


def test_only_the_points_of_the_months_in_sight_are_drawn_and_each_is_known() -> None:
    found = readings()
    june = range(whole(found).stop - 1, whole(found).stop)
    drawn = trend_chart(found, june, UTC_ZONE)

    assert drawn.points == (38, 39, 40)
    assert drawn.chart.steps == ("Jun 2031",)
    assert len(list(frame_of(drawn.chart, (0, 0), BOX).places(drawn.chart.series[0]))) == 3


def test_one_comes_closer_and_turns_earlier_and_never_leaves_the_months_there_are() -> None:
    all_of_it = InSight(range(100, 118), range(100, 118))
    year, half = all_of_it.closer(), all_of_it.closer().closer()

    assert (year.shown, half.shown) == (range(106, 118), range(112, 118))
    assert half.earlier().shown == range(106, 112)
    assert half.earlier().earlier().earlier().earlier().shown == range(100, 106)
    assert half.later().shown == half.shown
    assert half.wider().wider().is_whole
    assert not half.closer().closer().closer().can_come_closer


def test_what_changed_within_a_few_days_says_nothing_of_a_year() -> None:
    assert course_words(readings(days=50, step=2)) == "too short a time to tell a trend"
    assert course_words(readings(days=400)).startswith("no sure trend")


def test_readings_of_many_places_are_not_joined_as_if_one_followed_from_the_other() -> None:
    grade = replace(READ, charted=False)
    two_places, one_place = (
        [
            Sample(NOW - timedelta(days=n), Decimal(3), at_section(n % places), {"mine": ""})
            for n in range(6)
        ]
        for places in (2, 1)
    )
    drawn = [
        trend_chart(it, whole(it), UTC_ZONE).chart.series[0].drawn
        for said in (two_places, one_place)
        for it in series_of(grade, said, "mine", Months(UTC_ZONE, NOW))
    ]

    assert drawn == ["marks", "points"]


def at_section(number: int) -> Evidence:
    return Evidence("walk", str(number), "heading", "seen", Decimal(10 * number))


def test_a_slope_says_of_how_many_places_it_is_and_which_of_them_are_thrown_together() -> None:
    def of(*places: tuple[str, str]) -> str:
        samples = [
            Sample(
                NOW - timedelta(days=30 * (8 - month)),
                Decimal(month),
                Evidence("walk", f"{month}", heading, "a look"),
                {"mine": ""},
                place=place,
            )
            for month in range(8)
            for heading, place in places
        ]
        (found,) = series_of(READ, samples, "mine", Months(UTC_ZONE, NOW))
        return compared_words(found)

    assert of(("4180 Main", "20 to 30 m")) == ""
    assert of(("4180 Main", "a"), ("Cuddy", "b")) == ("2 places, each compared with itself alone")
    assert of(("4180 Main", ""), ("Cuddy", "")) == (
        "2 headings together: what is looked at may have changed"
    )
