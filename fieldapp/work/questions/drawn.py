"""What the app draws in a round: three bolts to look at, and a spacing to tape in each row.

A draw depends on the round alone: counting a row again, or undoing it, never draws others. What
was looked at is never drawn anew. Only what is there is drawn.
"""

import hashlib
from collections.abc import Iterable
from functools import lru_cache
from itertools import pairwise

from fieldapp.assess.readings import BOLTS_DRAWN
from fieldapp.work.demanded import demanded_in_row, positions_there
from fieldapp.work.round import RoundWork

Place = tuple[int, int]
"""A row, and the position of a bolt in it."""


def places_drawn(work: RoundWork) -> tuple[Place, ...]:
    """Draw three bolts, each in another row where there are as many rows with a bolt."""
    turn = _in_turn(work)
    drawn = [place for place in _drawn_before(work) if place in turn]
    for in_a_new_row in (True, False):
        for place in turn:
            used = {row for row, _ in drawn} if in_a_new_row else set()
            if len(drawn) < BOLTS_DRAWN and place not in drawn and place[0] not in used:
                drawn.append(place)
    return tuple(drawn)


def drawn_in_row(drawn: Iterable[Place], row: int) -> tuple[int, ...]:
    """Give the bolts of a row that are to be looked at one by one, of all that were drawn."""
    return tuple(sorted(place for number, place in drawn if number == row))


def spacing_drawn(work: RoundWork, row: int) -> Place | None:
    """Draw two bolts of a row whose distance is to be taped; None where there are no two.

    Neighbours, where two are there. What was taped stays drawn.
    """
    taped = work.bolted[row - 1].taped
    if taped:
        return taped[-1].from_position, taped[-1].to_position
    places = max(1, demanded_in_row(work, row) - 1)
    first = 1 + draw(f"{work.round_id} tape {row}") % places
    pairs = pairwise(positions_there(work, row))
    return min(pairs, key=lambda it: (it[1] - it[0], (it[0] - first) % places), default=None)


@lru_cache(maxsize=1024)  # a round draws of all its bolts anew after each answer
def draw(seed: str) -> int:
    """Give the number that a seed always draws."""
    return int.from_bytes(hashlib.sha256(seed.encode()).digest()[:6], "big")


def _drawn_before(work: RoundWork) -> list[Place]:
    """Give the bolts drawn when their rows were counted, those first that were looked at."""
    spots = [
        (spot.plate_gap is None, row.number, spot.position)
        for row in work.seen.rows
        for spot in row.spot_checks
    ]
    return [(row, position) for _, row, position in sorted(spots)]


def _in_turn(work: RoundWork) -> list[Place]:
    """Give every bolt that is there: one of each row, then a second of each, as they are drawn."""
    numbers = [row.number for row in work.bolted]
    ordered = sorted(numbers, key=lambda number: draw(f"{work.round_id} row {number} drawn"))
    turn = []
    for number in ordered:
        there = positions_there(work, number)
        bolts = sorted(there, key=lambda at: draw(f"{work.round_id} {(number, at)}"))
        turn += [(nth, (number, at)) for nth, at in enumerate(bolts)]
    return [place for _, place in sorted(turn, key=lambda it: it[0])]
