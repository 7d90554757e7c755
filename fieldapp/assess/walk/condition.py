"""What was last said of a section's support: the worst of it, part by part and zone by zone."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from schemas.bodies.walk import PartSeen


@dataclass(frozen=True)
class PartStated:
    """One part as somebody saw it, and on which day."""

    on: date
    seen: PartSeen
    place_m: Decimal | None
    """Where, in today's chainage; None: all along the section."""

    @property
    def what(self) -> tuple[object, ...]:
        """What it speaks of: a part at one place, or all along a zone."""
        return (self.seen.part, self.seen.zone, self.place_m, self.seen.s_m)


def worst_grade(stated: Iterable[PartStated]) -> int | None:
    """Give the worst grade of rust that was seen last.

    Parameters
    ----------
    stated : iterable of PartStated
        Everything that was said of a section, in any order. [m]

    Returns
    -------
    int or None
        The worst over parts, zones and places, each as it was graded last; on a day on which two
        people graded it, the worse. None where nobody graded anything. [-]

    Source
    ------
    Common practice, no source: where nothing new was seen, what was there is still there.
    """
    graded = [it for it in stated if it.seen.corrosion_grade is not None]
    grades = (it.seen.corrosion_grade for it in said_last(graded))
    return max((it for it in grades if it is not None), default=None)


def said_last(stated: Iterable[PartStated]) -> list[PartStated]:
    """Give what was said on the last day on which anything was said of the same.

    Parameters
    ----------
    stated : iterable of PartStated
        Everything that was said of a section, in any order. [m]

    Returns
    -------
    list of PartStated
        Of each part, zone and place; both of a day on which two people looked. [m]

    Source
    ------
    Common practice, no source.
    """
    of_one: dict[tuple[object, ...], list[PartStated]] = defaultdict(list)
    for it in stated:
        of_one[it.what].append(it)
    last = {what: max(it.on for it in said) for what, said in of_one.items()}
    return [it for what, said in of_one.items() for it in said if it.on == last[what]]


def gravest(codes: Iterable[str | None], card: Sequence[str]) -> str | None:
    """Give the gravest of severities; a code that the card lacks is graver than all of it.

    Parameters
    ----------
    codes : iterable of str or None
        As they were stated; None where nobody said. [-]
    card : sequence of str
        The standard's own codes, from mild to grave. [-]

    Returns
    -------
    str or None
        None where there is none. [-]

    Source
    ------
    Common practice, no source.
    """
    known = sorted({it for it in codes if it is not None})
    return max(known, key=lambda it: _rank(it, card), default=None)


def last_severities(stated: Iterable[PartStated]) -> tuple[str, ...]:
    """Give the severities that were seen last, of each part, zone and place.

    Parameters
    ----------
    stated : iterable of PartStated
        Everything that was said of a section, in any order. [m]

    Returns
    -------
    tuple of str
        Both of a day on which two people judged. [-]

    Source
    ------
    Common practice, no source.
    """
    judged = [it for it in stated if it.seen.severity is not None]
    return tuple(it.seen.severity for it in said_last(judged) if it.seen.severity is not None)


def _rank(code: str, card: Sequence[str]) -> int:
    return card.index(code) if code in card else len(card)
