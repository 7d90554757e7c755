"""A turn of the Shift board's page in a mine of 500 headings.

A wet glove can't flick, so the board is turned by pages: a turn fills every row in sight. The
demo's headings stand there again and again, since no two of those that follow are alike: every
word of a row is set anew.
"""

import tempfile
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from itertools import chain, cycle, islice
from pathlib import Path
from typing import TYPE_CHECKING

from tests.bench.frames import beside_a_frame, frame_ms
from tests.bench.ratio import Ratio

if TYPE_CHECKING:
    from tests.ui.mine import Hands

HEADINGS = 500
TURNS = 60


def ratios() -> list[Ratio]:
    """Turn the board in both ways of holding the tablet."""
    from tests.ui.harness import LANDSCAPE, PORTRAIT, Tablet
    from tests.ui.mine import at_the_demo

    tablet = Tablet()
    with tempfile.TemporaryDirectory() as folder, at_the_demo(tablet, Path(folder)) as hands:
        hands.signed_in()
        _fill(hands)
        found = []
        for held, size in (("landscape", LANDSCAPE), ("portrait", PORTRAIT)):
            tablet.turn(size)
            what = f"a page of the Shift board with {HEADINGS} headings, {held}"
            found.append(beside_a_frame(what, list(_turned(hands))))
        return found


def _fill(hands: "Hands") -> None:
    board = hands.shell.manager.current_screen
    lines = islice(cycle(board.lines), HEADINGS)
    board.lines = [replace(it, full_name=f"{it.full_name} {n}") for n, it in enumerate(lines)]
    hands.tablet.settle()


def _turned(hands: "Hands") -> Iterator[float]:
    """Turn page after page there and back; give the heaviest frame of each turn. [ms]"""
    from fieldapp.ui.widgets.paged_list import PagedList

    rows = hands.tablet.find(PagedList)
    there_and_back = chain([1] * (rows.pages - 1), [-1] * (rows.pages - 1))
    for by in islice(cycle(there_and_back), TURNS):
        acts: list[Callable[[], object]] = [partial(rows.turn, by), int, int]
        yield max([frame_ms(hands.tablet, act) for act in acts])
