"""Charts: figures where they belong, what was not read left out, no series by colour alone."""

from fieldapp.report.chart import Chart, ControlLine, Series
from fieldapp.report.paint.chart import paint_chart
from tests.unit.report.recording_pen import RecordingPen

MONTHS = ("2031-03", "2031-04", "2031-05")


def painted(*series: Series, lines: tuple[ControlLine, ...] = ()) -> RecordingPen:
    pen = RecordingPen()
    chart = Chart("Last row to the face", "metres, by month", MONTHS, series, lines)
    paint_chart(pen, chart, (0.0, 0.0), (90.0, 46.0))
    return pen


def test_a_figure_that_was_not_read_is_left_out_and_never_drawn_as_nought() -> None:
    pen = painted(Series("read", (0.8, None, 0.6), "points"))
    legend = 1

    assert len(pen.discs) == 2 + legend


def test_a_figure_twice_as_large_stands_twice_as_high_over_the_axis() -> None:
    pen = painted(Series("fired", (1.0, 2.0, 4.0)))
    bars = [points for points, _ in pen.fills][:3]
    heights = [max(y for _, y in bar) - min(y for _, y in bar) for bar in bars]

    assert abs(heights[1] / heights[0] - 2.0) < 1e-6
    assert abs(heights[2] / heights[0] - 4.0) < 1e-6


def test_two_series_differ_by_more_than_colour() -> None:
    one = painted(Series("fired", (1.0, 2.0, 3.0)))
    both = painted(Series("fired", (1.0, 2.0, 3.0)), Series("signed", (1.0, 2.0, 3.0)))

    # The second is hatched: many strokes, where the first has none within its bars.
    assert len(both.strokes) > len(one.strokes) + 3 * 3


def test_a_control_line_bears_its_name_and_a_limit_has_no_gaps() -> None:
    limit = ControlLine("at most", 1.0, graver=True)
    mean = ControlLine("mean", 0.7)
    pen = painted(Series("read", (0.8, 0.7, 0.6), "points"), lines=(limit, mean))
    written = [words for words, _, _ in pen.words]
    dashes = [line.dash_mm for _, line in pen.strokes if line.colour == "text"]

    assert {"at most", "mean"} <= set(written)
    assert sorted(dashes) == [0.0, 2.0]


def test_nothing_is_painted_outside_of_its_box() -> None:
    pen = painted(
        Series("a series with a name that is as long as people make them", (0.0, 1000.0, 3.0)),
        Series("signed", (-5.0, None, 3.0)),
        lines=(ControlLine("at most", 900.0),),
    )
    points = [point for line, _ in pen.strokes for point in line]
    points += [at for _, at, _ in pen.words]

    assert all(-0.1 <= x <= 90.1 and -0.1 <= y <= 46.6 for x, y in points)
