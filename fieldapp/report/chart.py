"""Charts as plain figures, for paper and screen alike, and where each figure lies in its frame.

Every series has a mark or a hatching of its own: colour says it once more and never alone.
Control lines carry their name. What was not read is left out, never drawn as nought.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, floor, log10
from typing import Final, Literal

from fieldapp.report.letters import width_mm
from fieldapp.report.pens.pen import Point
from fieldapp.report.set_text import line_mm

TICKS: Final = 5
SWATCH_MM: Final = 4.0
PAPER_PT: Final = 7.0
"""The small letters of paper; a screen has larger ones, and marks grow with them."""
TITLE: Final = 9 / 7
"""How much larger a title is."""
APART_MM: Final = 5.0
"""Between what a legend names."""


@dataclass(frozen=True)
class Series:
    """One row of figures; None where there is none for a step."""

    name: str
    values: tuple[float | None, ...]
    drawn: Literal["bars", "points", "marks"] = "bars"
    """Points are joined by a line, marks stand alone."""
    at: tuple[float, ...] = ()
    """Where each figure stands, in steps from the first one's middle; empty: one on each step."""
    reach: tuple[tuple[float, float] | None, ...] = ()
    """From where to where each may be off; empty: nothing is said of it."""

    def places(self) -> Iterator[tuple[int, float, float]]:
        """Yield each figure that there is: which one, at what step, and how large."""
        for number, value in enumerate(self.values):
            if value is not None:
                yield number, self.at[number] if self.at else float(number), value


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
    from_nought: bool = True
    """Whether the axis takes in nought, as bars have to; points may stand on a part of it."""

    @property
    def has_values(self) -> bool:
        """Whether anything was read at all."""
        return any(value is not None for it in self.series for value in it.values)

    @property
    def figures(self) -> list[float]:
        """Everything that has to find room on the axis."""
        found = [value for it in self.series for _, _, value in it.places()]
        found += [end for it in self.series for both in it.reach if both for end in both]
        return [*found, *(it.value for it in self.lines)]


@dataclass(frozen=True)
class Scale:
    """Where an axis begins and ends, and its step: 1, 2 or 5 times a power of ten."""

    low: float
    high: float
    step: float

    @property
    def ticks(self) -> list[tuple[float, str]]:
        """Each tick with its figure, from the lowest."""
        decimals = max(0, -floor(log10(self.step) + 1e-9))
        count = round((self.high - self.low) / self.step) + 1
        values = [self.low + number * self.step for number in range(count)]
        return [(value, f"{value + 0.0:.{decimals}f}") for value in values]


def scale_of(chart: Chart) -> Scale:
    """Give the axis that holds every figure of a chart."""
    values = chart.figures + ([0.0] if chart.from_nought else [])
    least, most = min(values, default=0.0), max(values, default=0.0)
    rough = ((most - least) or abs(most) or 1.0) / TICKS
    power = 10.0 ** floor(log10(rough))
    step = next(it * power for it in (1, 2, 5, 10) if it * power >= rough * 0.999)
    if all(value.is_integer() for value in values):
        step = max(1.0, step)
    low = floor(least / step + 1e-9) * step
    return Scale(low, max(low + step, ceil(most / step - 1e-9) * step), step)


@dataclass(frozen=True)
class Frame:
    """The part of a chart's box where its figures lie, in millimetres from the upper left."""

    left: float
    top: float
    right: float
    bottom: float
    scale: Scale
    steps: int
    letters_pt: float

    def x(self, step: float) -> float:
        """Give where a step's middle lies."""
        return self.left + (step + 0.5) * self.step_mm

    def y(self, value: float) -> float:
        """Give how high a figure lies."""
        share = (value - self.scale.low) / (self.scale.high - self.scale.low)
        return self.bottom - share * (self.bottom - self.top)

    @property
    def step_mm(self) -> float:
        """How wide a step is."""
        return (self.right - self.left) / max(1, self.steps)

    @property
    def larger(self) -> float:
        """How many times larger than on paper letters and marks are."""
        return self.letters_pt / PAPER_PT

    def places(self, series: Series) -> Iterator[tuple[int, Point]]:
        """Yield where each figure lies that there is."""
        for number, step, value in series.places():
            yield number, (self.x(step), self.y(value))


def frame_of(
    chart: Chart, corner: Point, size_mm: tuple[float, float], letters_pt: float = PAPER_PT
) -> Frame:
    """Find the room for a chart's figures in a box: its words, ticks and legend lie around it."""
    (left, top), (wide, high) = corner, size_mm
    scale, line = scale_of(chart), line_mm(letters_pt)
    head = (line * TITLE if chart.title else 0.0) + line + letters_pt / PAPER_PT
    foot = line * len(legend_rows(chart, wide, letters_pt)) + line + 1.5
    ticks = max(width_mm(words, letters_pt) for _, words in scale.ticks) + 2.0
    names = max((width_mm(it.name, letters_pt) + 1.5 for it in chart.lines), default=1.0)
    return Frame(
        left + ticks,
        top + head,
        left + wide - names,
        top + high - foot,
        scale,
        len(chart.steps),
        letters_pt,
    )


def legend_rows(chart: Chart, wide_mm: float, letters_pt: float) -> list[list[tuple[int, Series]]]:
    """Break the names of the series into lines; each with its number, which gives its mark."""
    rows: list[list[tuple[int, Series]]] = [[]]
    used = 0.0
    for number, it in enumerate(chart.series):
        needed = swatch_mm(letters_pt) + width_mm(it.name, letters_pt) + APART_MM
        if rows[-1] and used + needed > wide_mm:
            rows.append([])
            used = 0.0
        rows[-1].append((number, it))
        used += needed
    return rows


def swatch_mm(letters_pt: float) -> float:
    """Give the room of a mark in the legend."""
    return SWATCH_MM * letters_pt / PAPER_PT
