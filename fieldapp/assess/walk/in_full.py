"""Which zones of which sections are answered in full on a month's walk, drawn from a text."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from typing import Final

from fieldapp.assess.sampling import Stratum, drawn
from schemas.bodies.damage import DamageZone

ZONES: Final[tuple[DamageZone, ...]] = (
    "left wall",
    "left shoulder",
    "back",
    "right shoulder",
    "right wall",
    "floor",
)
TOGETHER: Final = 10
"""So many neighbouring sections are drawn from together."""


def zones_in_full(
    sections: Iterable[int], in_ten: int, seed: str
) -> dict[int, tuple[DamageZone, ...]]:
    """Draw the zones that are answered in full.

    Parameters
    ----------
    sections : iterable of int
        Numbers of the sections that there are. [-]
    in_ten : int
        How many zones of every ten sections. [-]
    seed : str
        Mine, heading and month: from it anybody draws the same ones. [-]

    Returns
    -------
    dict of section and zones
        Of sections of which a zone was drawn. Where fewer than ten sections stand together, as
        at the face, so many zones fewer, rounded up. [-]

    Source
    ------
    Common practice, no source.
    """
    tens: dict[int, list[int]] = defaultdict(list)
    for number in sorted(set(sections)):
        tens[number // TOGETHER].append(number)
    strata = [_stratum(ten, numbers, in_ten) for ten, numbers in tens.items()]
    chosen = {member for members in drawn(strata, seed).values() for member in members}
    return {
        number: zones
        for numbers in tens.values()
        for number in numbers
        if (zones := tuple(it for it in ZONES if f"{number} {it}" in chosen))
    }


def _stratum(ten: int, numbers: Sequence[int], in_ten: int) -> Stratum:
    key = f"sections {ten * TOGETHER} to {ten * TOGETHER + TOGETHER - 1}"
    members = tuple(f"{number} {zone}" for number in numbers for zone in ZONES)
    return Stratum(key, members, -(-in_ten * len(numbers) // TOGETHER))
