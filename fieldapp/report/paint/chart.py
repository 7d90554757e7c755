"""Paints a chart with a pen: on paper, and on the glass."""

from collections.abc import Callable, Sequence
from itertools import pairwise
from typing import Final

from fieldapp.report.chart import (
    APART_MM,
    PAPER_PT,
    TITLE,
    Chart,
    ControlLine,
    Frame,
    Series,
    frame_of,
    legend_rows,
    swatch_mm,
)
from fieldapp.report.letters import cut, width_mm
from fieldapp.report.paint.drive import paint_hatching
from fieldapp.report.pens.pen import Line, Pen, Point, Type, box
from fieldapp.report.set_text import line_mm, set_line

MARK_MM: Final = 1.1
BAR_SHARE: Final = 0.7
"""Of the width of a step."""
_COLOURS: Final = ("measures", "rework", "accept", "text")
_HALF_A_LETTER: Final = 0.13
"""From the middle of a figure down to its baseline, in millimetres a point."""


def paint_chart(
    pen: Pen,
    chart: Chart,
    corner: Point,
    size_mm: tuple[float, float],
    letters_pt: float = PAPER_PT,
) -> None:
    """Paint a chart into a box from its upper left corner."""
    (left, top), (wide, high) = corner, size_mm
    frame = frame_of(chart, corner, size_mm, letters_pt)
    small, title_pt = Type(letters_pt, colour="quiet"), letters_pt * TITLE
    if chart.title:
        title = cut(chart.title, title_pt, wide, bold=True)
        set_line(pen, title, (left, top), Type(title_pt, bold=True))
        top += line_mm(title_pt)
    set_line(pen, cut(chart.unit, letters_pt, wide), (left, top), small)
    _grid(pen, frame)
    _steps(pen, frame, chart)
    for number, it in enumerate(chart.series):
        _paint_series(pen, frame, chart, number, it)
    _control_lines(pen, frame, chart.lines)
    rows = legend_rows(chart, wide, letters_pt)
    _legend(pen, rows, (left, corner[1] + high - len(rows) * line_mm(letters_pt)), frame)


def _grid(pen: Pen, frame: Frame) -> None:
    right = Type(frame.letters_pt, colour="quiet", align="right")
    for number, (value, words) in enumerate(frame.scale.ticks):
        y = frame.y(value)
        colour = "outline" if number == 0 else "faint"
        pen.stroke([(frame.left, y), (frame.right, y)], Line(colour, 0.15 * frame.larger))
        pen.write(words, (frame.left - 1.2, y + _HALF_A_LETTER * frame.letters_pt), right)


def _steps(pen: Pen, frame: Frame, chart: Chart) -> None:
    """Write as many names below the axis as have room, the last one always."""
    if not chart.steps:
        return
    pt = frame.letters_pt
    widest = max(width_mm(it, pt) for it in chart.steps) + 2.0
    every = max(1, -int(-widest // frame.step_mm))
    middle = Type(pt, colour="quiet", align="middle")
    free = frame.right + 2.0
    for number in range(len(chart.steps) - 1, -1, -every):
        words = chart.steps[number]
        half = width_mm(words, pt) / 2
        x = max(min(frame.x(number), frame.right - half), frame.left + half)
        if x + half + 2.0 <= free + 1e-9:
            pen.write(words, (x, frame.bottom + 3.2 * frame.larger), middle)
            free = x - half
    if any(it.at for it in chart.series):
        for number in range(len(chart.steps) + 1):
            x = frame.x(number - 0.5)
            tick = [(x, frame.bottom), (x, frame.bottom + 0.6 * frame.larger)]
            pen.stroke(tick, Line("outline", 0.15 * frame.larger))


def _paint_series(pen: Pen, frame: Frame, chart: Chart, number: int, series: Series) -> None:
    if series.drawn != "bars":
        _points(pen, frame, chart, number)
        return
    bars = [it for it in chart.series if it.drawn == "bars"]
    place, wide = bars.index(series), frame.step_mm * BAR_SHARE / len(bars)
    for _, step, value in series.places():
        x = frame.x(step) - frame.step_mm * BAR_SHARE / 2 + place * wide
        top, base = frame.y(max(value, 0.0)), frame.y(min(value, 0.0))
        _BARS[number % len(_BARS)](pen, (x, top), (wide * 0.92, base - top), number)


def _points(pen: Pen, frame: Frame, chart: Chart, number: int) -> None:
    colour, series = _COLOURS[number % len(_COLOURS)], chart.series[number]
    places = dict(frame.places(series))
    if series.drawn == "points":
        for (one, here), (other, there) in pairwise(places.items()):
            if other == one + 1 or series.at:
                pen.stroke([here, there], Line(colour, 0.25 * frame.larger))
    for at, both in enumerate(series.reach):
        if both is not None and at in places:
            _reach(pen, frame, places[at][0], both, colour)
    radius_mm = _mark_mm(frame, chart)
    for at_mm in places.values():
        _MARKS[number % len(_MARKS)](pen, at_mm, radius_mm, number)


def _mark_mm(frame: Frame, chart: Chart) -> float:
    """Give a mark's radius: where many stand close, half of the usual one."""
    usual, most = MARK_MM * frame.larger, max(len(it.values) for it in chart.series)
    room = (frame.right - frame.left) / max(1, most) / 2
    return max(usual / 2, min(usual, room))


def _reach(pen: Pen, frame: Frame, x: float, both: tuple[float, float], colour: str) -> None:
    """Draw how far a figure may be off, with an end at each side."""
    low, high = (frame.y(it) for it in both)
    line, half = Line(colour, 0.2 * frame.larger), 0.8 * frame.larger
    for stroke in (
        [(x, low), (x, high)],
        [(x - half, low), (x + half, low)],
        [(x - half, high), (x + half, high)],
    ):
        pen.stroke(stroke, line)


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


def _disc(pen: Pen, at: Point, radius_mm: float, number: int) -> None:
    pen.disc(at, radius_mm, _COLOURS[number % len(_COLOURS)])


def _ring(pen: Pen, at: Point, radius_mm: float, number: int) -> None:
    line = Line(_COLOURS[number % len(_COLOURS)], radius_mm / 3)
    pen.disc(at, radius_mm * 1.4, "ground")
    pen.circle(at, radius_mm * 1.4, line)


def _square(pen: Pen, at: Point, radius_mm: float, number: int) -> None:
    corner = (at[0] - radius_mm, at[1] - radius_mm)
    pen.fill(box(corner, (2 * radius_mm, 2 * radius_mm)), _COLOURS[number % len(_COLOURS)])


_Bar = Callable[[Pen, Point, tuple[float, float], int], None]
_BARS: Final[tuple[_Bar, ...]] = (_filled, _hatched, _hollow)
_MARKS: Final = (_disc, _ring, _square)


def _control_lines(pen: Pen, frame: Frame, lines: Sequence[ControlLine]) -> None:
    """Draw the lines, and name each beside the frame, where no mark lies below the words."""
    in_order = sorted(lines, key=lambda it: frame.y(it.value))
    levels = [frame.y(it.value) for it in in_order]
    words = Type(frame.letters_pt, colour="text")
    places = apart(levels, line_mm(frame.letters_pt), (frame.top, frame.bottom))
    for line, y, place in zip(in_order, levels, places, strict=True):
        dash_mm = 0.0 if line.graver else 2.0
        kind = Line("text", 0.3, dash_mm, 1.2)
        pen.stroke([(frame.left, y), (frame.right, y)], kind)
        base = place + _HALF_A_LETTER * frame.letters_pt
        pen.write(line.name, (frame.right + 1.0, base), words)


def apart(levels: Sequence[float], least: float, room: tuple[float, float]) -> list[float]:
    """Move levels, given from the top down, as far apart as their words are high."""
    places: list[float] = []
    for level in levels:
        above = places[-1] + least if places else room[0]
        places.append(max(level, above))
    below = room[1]
    for number in reversed(range(len(places))):
        places[number] = min(places[number], below)
        below = places[number] - least
    return places


def _legend(pen: Pen, rows: list[list[tuple[int, Series]]], corner: Point, frame: Frame) -> None:
    pt, (left, y) = frame.letters_pt, corner
    swatch = swatch_mm(pt)
    for row in rows:
        x = left
        for number, it in row:
            if it.drawn == "bars":
                size = (swatch - frame.larger, 2.2 * frame.larger)
                _BARS[number % len(_BARS)](pen, (x, y + 0.5), size, number)
            else:
                at = (x + swatch / 2, y + line_mm(pt) / 2)
                _MARKS[number % len(_MARKS)](pen, at, MARK_MM * frame.larger, number)
            set_line(pen, it.name, (x + swatch, y), Type(pt))
            x += swatch + width_mm(it.name, pt) + APART_MM
        y += line_mm(pt)
