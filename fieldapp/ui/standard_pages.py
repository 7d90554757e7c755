"""A standard's sections set into pages of a given height; no widgets here."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from fieldapp.assess.standard_words import Line, Section
from fieldapp.report.words.lengths import Units, limits_in_units

HeightOf = Callable[[Line], float]


@dataclass(frozen=True)
class Block:
    """Lines of one section that stand together on a page."""

    title: str
    lines: tuple[Line, ...]
    goes_on: bool = False
    """Whether its section began on an earlier page."""


Page = tuple[Block, ...]


def pages(
    sections: Iterable[Section], height_of: HeightOf, title_height: float, room: float
) -> tuple[Page, ...]:
    """Set sections into pages: no line is cut, and no title stands without a line.

    Parameters
    ----------
    sections : iterable of Section
        What is to be set.
    height_of : callable
        Gives the height of a line.
    title_height : float
        Height of a block's title.
    room : float
        Height of a page, in the same unit.
    """
    setting = _Setting(height_of, title_height, room)
    for section in sections:
        setting.add(section)
    return tuple(setting.done())


def sections_in(sections: Iterable[Section], units: Units) -> tuple[Section, ...]:
    """Give sections whose demands and breaches are in the mine's units; clauses stay as named."""
    return tuple(
        Section(section.title, tuple(_line_in(line, units) for line in section.lines))
        for section in sections
    )


def _line_in(line: Line, units: Units) -> Line:
    demanded, breach = (limits_in_units(it, units) for it in (line.demanded, line.breach))
    return Line(demanded, breach, line.because)


class _Setting:
    """The page that is being filled, and those before it."""

    def __init__(self, height_of: HeightOf, title_height: float, room: float) -> None:
        self._height_of, self._title_height, self._room = height_of, title_height, room
        self._full: list[Page] = []
        self._page: list[Block] = []
        self._used = 0.0

    def add(self, section: Section) -> None:
        lines: list[Line] = []
        goes_on = False
        for line in section.lines:
            needed = self._height_of(line) + (0 if lines else self._title_height)
            if self._used and self._used + needed > self._room:
                goes_on = self._close(section, lines, goes_on=goes_on)
                lines = []
                needed = self._height_of(line) + self._title_height
            lines.append(line)
            self._used += needed
        if lines:
            self._page.append(Block(section.title, tuple(lines), goes_on))

    def done(self) -> Iterator[Page]:
        """Give every page."""
        yield from self._full
        if self._page:
            yield tuple(self._page)

    def _close(self, section: Section, lines: list[Line], *, goes_on: bool) -> bool:
        """End the page; tell whether the section's next lines go on with it."""
        if lines:
            self._page.append(Block(section.title, tuple(lines), goes_on))
        self._full.append(tuple(self._page))
        self._page, self._used = [], 0.0
        return goes_on or bool(lines)
