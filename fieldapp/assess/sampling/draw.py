"""Which ones are looked at: drawn by a seed, so that anybody can draw the same ones again.

Each member has a number from the hash of seed, stratum and member, and the least numbers are
drawn. So the draw is the same on every machine and in whatever order the members are listed,
who draws more draws the same ones and others, and a member that is added displaces at most one.
"""

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from hashlib import sha256


@dataclass(frozen=True)
class Stratum:
    """Things alike of which some are drawn: bolts of one type, bays of the back, zones."""

    name: str
    members: tuple[str, ...]
    draw: int
    """How many; all of them where there are no more."""


def drawn(strata: Iterable[Stratum], seed: str) -> dict[str, tuple[str, ...]]:
    """Draw from each stratum.

    Parameters
    ----------
    strata : iterable of Stratum
        Each with a name of its own; a member that is listed twice is one. [-]
    seed : str
        What the draw follows from: an id of the walk, say. [-]

    Returns
    -------
    dict of name and members
        Those drawn, in the order in which they were listed. [-]

    Source
    ------
    Common practice, no source: the hash (SHA-256, FIPS 180-4) stands for a fair lot.
    """
    return {one.name: _drawn_from(one, seed) for one in strata}


def _drawn_from(stratum: Stratum, seed: str) -> tuple[str, ...]:
    members = tuple(dict.fromkeys(stratum.members))
    by_lot = sorted(members, key=lambda it: _lot((seed, stratum.name, it)))
    chosen = set(by_lot[: max(0, stratum.draw)])
    return tuple(it for it in members if it in chosen)


def _lot(words: Sequence[str]) -> bytes:
    return sha256(json.dumps(words, separators=(",", ":")).encode("ascii")).digest()
