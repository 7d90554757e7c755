"""What the check of a standard says, and the words that its rules share.

A rule of a support class is a generator over that class; it names places from the class on
(".limits.mesh_lap") and the check puts the class before them.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import TypeAlias

from schemas.numbers import STEP_M, rounded, text
from schemas.standard import Standard, SupportClass


@dataclass(frozen=True)
class Refusal:
    """Why a standard can't be adopted as it is; the reason completes "at path, …"."""

    path: str
    reason: str


@dataclass(frozen=True)
class Caution:
    """What the engineer should know before adopting it all the same."""

    path: str
    reason: str


Fault: TypeAlias = Refusal | Caution
ClassRule: TypeAlias = Callable[[SupportClass], Iterator[Fault]]
StandardRule: TypeAlias = Callable[[Standard], Iterator[Fault]]


def plain(value: Decimal) -> str:
    """Write a figure as a person says it, without trailing noughts.

    Parameters
    ----------
    value : Decimal
        The figure. [any]

    Returns
    -------
    str
        "1.4" for 1.400. [same unit]

    Source
    ------
    Common practice, no source.
    """
    return text(value.normalize() + 0)


def metres(value: float | Decimal) -> str:
    """Write a length with its unit, rounded to the millimetre.

    Parameters
    ----------
    value : float or Decimal
        The length. [m]

    Returns
    -------
    str
        "1.4 m". [m]

    Source
    ------
    Common practice, no source.
    """
    return f"{plain(rounded(value, STEP_M))} m"
