"""Charts as plain strokes, for paper and screen alike: figures over months, rounds or tests.

Every series has a mark or a hatching of its own: colour says it once more and never alone.
Control lines carry their name. What was not read is left out, never drawn as nought.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor, log10
from typing import Final, Literal

from fieldapp.report.letters import cut, width_mm
from fieldapp.report.paint_drive import paint_hatching
from fieldapp.report.pen import Line, Pen, Point, Type, box
from fieldapp.report.set_text import line_mm, set_line

SMALL: Final = Type(7.0, colour="quiet")
TICKS: Final = 5
MARK_MM: Final = 1.1
SWATCH_MM: Final = 4.0
BAR_SHARE: Final = 0.7
"""Of the width of a step."""


@dataclass(frozen=True)
class Series:
    """One row of figures; None where there is none for a step."""

    name: str
    values: tuple[float | None, ...]
    drawn: Literal["bars", "points"] = "bars"


@dataclass(frozen=True)
class ControlLine:
    """A level across the chart: a limit, a mean, a threshold."""

    name: str
    value: float
    graver: bool = False
    """Drawn without gaps: what must not be passed."""


@dataclass(frozen=True)
class Chart:
    """Figures in steps of one axis, beside lines that they are compared with."""

    title: str
    unit: str
    """In words: "metres a month"."""
    steps: tuple[str, ...]
    """What stands below each: months, rounds."""
    series: tuple[Series, ...]
    lines: tuple[ControlLine, ...] = ()

    @property
    def has_values(self) -> bool:
        """Whether anything was read at all."""
        return any(value is not None for it in self.series for value in it.values)


@dataclass(frozen=True)
class _Frame:
    left: float
    top: float
    right: float
    bottom: float
    low: float
    high: float
    steps: int

    def x(self, step: float) -> float:
        return self.left + (step + 0.5) * self.step_mm

    def y(self, value: float) -> float:
        share = (value - self.low) / (self.high - self.low)
        return self.bottom - share * (self.bottom - self.top)

    @property
    def step_mm(self) -> float:
        return (self.right - self.left) / max(1, self.steps)


def paint_chart(pen: Pen, chart: Chart, corner: Point, size_mm: tuple[float, float]) -> None:
    """Paint a chart into a box from its upper left corner."""
    (left, top), (wide, high) = corner, size_mm
    set_line(pen, cut(chart.title, 9.0, wide, bold=True), (left, top), Type(9.0, bold=True))
    top += line_mm(9.0)
    set_line(pen, cut(chart.unit, SMALL.size_pt, wide), (left, top), SMALL)
    top += line_mm(SMALL.size_pt) + 1.0
    legend_mm = line_mm(SMALL.size_pt) * len(list(_legend_rows(chart, wide)))
    low, most, step = _scale(chart)
    labels = [_figure(low + it * step, step) for it in range(round((most - low) / step) + 1)]
    margin = max(width_mm(it, SMALL.size_pt) for it in labels) + 2.0
    bottom = corner[1] + high - legend_mm - line_mm(SMALL.size_pt) - 1.5
    frame = _Frame(left + margin, top, left + wide - 1.0, bottom, low, most, len(chart.steps))
    _grid(pen, frame, labels, step)
    _steps(pen, frame, chart.steps)
    for number, it in enumerate(chart.series):
        _paint_series(pen, frame, chart, number, it)
    for line in chart.lines:
        _control(pen, frame, line)
    _legend(pen, chart, (left, corner[1] + high - legend_mm), wide)


def _scale(chart: Chart) -> tuple[float, float, float]:
    """Give where the axis begins and ends, and its step: 1, 2 or 5 times a power of ten."""
    values = [value for it in chart.series for value in it.values if value is not None]
    values += [it.value for it in chart.lines]
    least, most = min([0.0, *values]), max([0.0, *values])
    reach = (most - least) or 1.0
    rough = reach / TICKS
    power = 10.0 ** floor(log10(rough))
    step = next(it * power for it in (1, 2, 5, 10) if it * power >= rough * 0.999)
    if all(float(value).is_integer() for value in values):
        step = max(1.0, step)
    return floor(least / step) * step, max(1, ceil(most / step - 1e-9)) * step, step


def _figure(value: float, step: float) -> str:
    decimals = max(0, -floor(log10(step) + 1e-9))
    return f"{value + 0.0:.{decimals}f}"


def _grid(pen: Pen, frame: _Frame, labels: Sequence[str], step: float) -> None:
    right = Type(SMALL.size_pt, colour="quiet", align="right")
    for number, words in enumerate(labels):
        y = frame.y(frame.low + number * step)
        colour = "outline" if number == 0 else "faint"
        pen.stroke([(frame.left, y), (frame.right, y)], Line(colour, 0.15))
        pen.write(words, (frame.left - 1.2, y + 0.9), right)


def _steps(pen: Pen, frame: _Frame, steps: Sequence[str]) -> None:
    """Write as many names below the axis as have room, the last one always."""
    if not steps:
        return
    widest = max(width_mm(it, SMALL.size_pt) for it in steps) + 2.0
    every = max(1, ceil(widest / frame.step_mm))
    middle = Type(SMALL.size_pt, colour="quiet", align="middle")
    for number, words in enumerate(steps):
        if (len(steps) - 1 - number) % every == 0:
            half = width_mm(words, SMALL.size_pt) / 2
            x = min(frame.x(number), frame.right - half)
            pen.write(words, (max(x, frame.left + half), frame.bottom + 3.2), middle)


_COLOURS: Final = ("measures", "rework", "accept", "text")


def _paint_series(pen: Pen, frame: _Frame, chart: Chart, number: int, series: Series) -> None:
    if series.drawn == "points":
        _points(pen, frame, number, series)
        return
    bars = [it for it in chart.series if it.drawn == "bars"]
    place, wide = bars.index(series), frame.step_mm * BAR_SHARE / len(bars)
    for step, value in enumerate(series.values):
        if value is not None:
            x = frame.x(step) - frame.step_mm * BAR_SHARE / 2 + place * wide
            top, base = frame.y(max(value, 0.0)), frame.y(min(value, 0.0))
            _BARS[number % len(_BARS)](pen, (x, top), (wide * 0.92, base - top), number)


def _points(pen: Pen, frame: _Frame, number: int, series: Series) -> None:
    colour = _COLOURS[number % len(_COLOURS)]
    last: Point | None = None
    for step, value in enumerate(series.values):
        here = None if value is None else (frame.x(step), frame.y(value))
        if here and last:
            pen.stroke([last, here], Line(colour, 0.25))
        last = here
    for step, value in enumerate(series.values):
        if value is not None:
            _MARKS[number % len(_MARKS)](pen, (frame.x(step), frame.y(value)), number)


def _filled(pen: Pen, corner: Point, size: tuple[float, float], number: int) -> None:
    if size[1] > 0:
        pen.fill(box(corner, size), _COLOURS[number % len(_COLOURS)])


def _hatched(pen: Pen, corner: Point, size: tuple[float, float], number: int) -> None:
    if size[1] > 0:
        pen.fill(box(corner, size), "ground")
        paint_hatching(pen, corner, size, _COLOURS[number % len(_COLOURS)])


def _hollow(pen: Pen, corner: Point, size: tuple[float, float], number: int) -> None:
    if size[1] > 0:
        pen.fill(box(corner, size), "ground")
        pen.stroke(box(corner, size), Line(_COLOURS[number % len(_COLOURS)], 0.3), closed=True)


def _disc(pen: Pen, at: Point, number: int) -> None:
    pen.disc(at, MARK_MM, _COLOURS[number % len(_COLOURS)])


def _ring(pen: Pen, at: Point, number: int) -> None:
    pen.disc(at, MARK_MM, "ground")
    pen.circle(at, MARK_MM, Line(_COLOURS[number % len(_COLOURS)], 0.35))


def _square(pen: Pen, at: Point, number: int) -> None:
    corner = (at[0] - MARK_MM, at[1] - MARK_MM)
    pen.fill(box(corner, (2 * MARK_MM, 2 * MARK_MM)), _COLOURS[number % len(_COLOURS)])


_Bar = Callable[[Pen, Point, tuple[float, float], int], None]
_BARS: Final[tuple[_Bar, ...]] = (_filled, _hatched, _hollow)
_MARKS: Final = (_disc, _ring, _square)


def _control(pen: Pen, frame: _Frame, line: ControlLine) -> None:
    y = frame.y(line.value)
    dash_mm = 0.0 if line.graver else 2.0
    pen.stroke([(frame.left, y), (frame.right, y)], Line("text", 0.3, dash_mm, 1.2))
    words = Type(SMALL.size_pt, colour="text", align="right")
    pen.write(line.name, (frame.right, y - 0.8), words)


def _legend_rows(chart: Chart, wide: float) -> Iterator[list[tuple[int, Series]]]:
    row: list[tuple[int, Series]] = []
    used = 0.0
    for number, it in enumerate(chart.series):
        needed = SWATCH_MM + width_mm(it.name, SMALL.size_pt) + 5.0
        if row and used + needed > wide:
            yield row
            row, used = [], 0.0
        row.append((number, it))
        used += needed
    yield row


def _legend(pen: Pen, chart: Chart, corner: Point, wide: float) -> None:
    x, y = corner
    for row in _legend_rows(chart, wide):
        for number, it in row:
            if it.drawn == "points":
                at = (x + SWATCH_MM / 2, y + line_mm(SMALL.size_pt) / 2)
                _MARKS[number % len(_MARKS)](pen, at, number)
            else:
                _BARS[number % len(_BARS)](pen, (x, y + 0.5), (SWATCH_MM - 1.0, 2.2), number)
            set_line(pen, it.name, (x + SWATCH_MM, y), Type(SMALL.size_pt))
            x += SWATCH_MM + width_mm(it.name, SMALL.size_pt) + 5.0
        x, y = corner[0], y + line_mm(SMALL.size_pt)
