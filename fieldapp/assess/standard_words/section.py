"""The form of a standard in plain words: sections of lines, each with reason and breach."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeAlias

from fieldapp.assess.standard_check.faults import plain
from schemas.limits import Demanded, Measured
from schemas.standard import SupportClass


@dataclass(frozen=True)
class Line:
    """One thing that is demanded; what a breach means and why it is demanded, where stated."""

    demanded: str
    breach: str = ""
    because: str = ""


@dataclass(frozen=True)
class Section:
    """Lines of one subject, in the order in which a round is looked at."""

    title: str
    lines: tuple[Line, ...]


Lines: TypeAlias = Iterator[Line]
ClassSection: TypeAlias = tuple[str, Callable[[SupportClass], Lines]]


def limit_line(demanded: str, limit: Demanded) -> Line:
    """Put what a limit demands beside its breach and its reason.

    Parameters
    ----------
    demanded : str
        What is demanded, as one sentence. [any]
    limit : Demanded
        The limit it comes from. [any]

    Returns
    -------
    Line
        "rework; no entry above 2.07 m" where the grave step starts later. [any]

    Source
    ------
    Common practice, no source.
    """
    breach = str(limit.breach)
    if isinstance(limit, Measured) and limit.grave_bound is not None:
        side = "above" if limit.sense == "at most" else "below"
        breach += f"; no entry {side} {plain(limit.grave_bound)} {limit.unit}"
    return Line(demanded, breach, limit.because)


def counted(number: int, thing: str) -> str:
    """Say how many there are.

    Parameters
    ----------
    number : int
        How many. [-]
    thing : str
        One of them. [-]

    Returns
    -------
    str
        "1 opening", "3 openings". [-]

    Source
    ------
    English.
    """
    return f"{number} {thing}" if number == 1 else f"{number} {thing}s"


def listed(things: list[str]) -> str:
    """Join things as a person says them.

    Parameters
    ----------
    things : list of str
        One or more. [-]

    Returns
    -------
    str
        "back, left shoulder and right shoulder". [-]

    Source
    ------
    English.
    """
    return " and ".join(filter(None, (", ".join(things[:-1]), things[-1])))
