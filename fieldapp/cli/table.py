"""Columns of text for a terminal."""

import textwrap
from collections.abc import Iterator, Sequence

GAP = "  "
NO_BREAK = "\N{NO-BREAK SPACE}"
"""Holds a figure and its unit on one line; a terminal is given plain spaces to search for."""


def table(
    head: Sequence[str], rows: Sequence[Sequence[str]], widest: Sequence[int]
) -> Iterator[str]:
    """Yield the lines of a table; what is wider than its column goes on in the next line.

    Parameters
    ----------
    head : sequence of str
        What stands over the columns.
    rows : sequence of sequences of str
        The rows, each with as many cells as there are columns.
    widest : sequence of int
        How many letters wide each column may be.
    """
    cells = [
        [_wrapped(cell, most) for cell, most in zip(row, widest, strict=True)] for row in rows
    ]
    wide = [
        max(len(title), *(len(line) for row in cells for line in row[column]), 0)
        for column, title in enumerate(head)
    ]
    yield _line(head, wide)
    yield _line(["─" * width for width in wide], wide)
    for row in cells:
        for number in range(max(len(cell) for cell in row)):
            yield _line([cell[number] if number < len(cell) else "" for cell in row], wide)


def _line(cells: Sequence[str], wide: Sequence[int]) -> str:
    return GAP.join(cell.ljust(width) for cell, width in zip(cells, wide, strict=True)).rstrip()


def _wrapped(cell: str, most: int) -> list[str]:
    lines = textwrap.wrap(cell, most, break_on_hyphens=False) or [""]
    return [line.replace(NO_BREAK, " ") for line in lines]
