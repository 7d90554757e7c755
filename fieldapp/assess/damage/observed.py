"""What was seen of one damage, time after time, and which reading of it counts.

Whatever comes of observations comes from all of them, in the order in which they were seen: in
which order they arrived on a tablet means nothing.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final, Literal, TypeAlias

from schemas.bodies.damage import (
    Damage,
    How,
    ReadMetres,
    ReadMillimetres,
    ReadSquareMetres,
    ReadTonnes,
)
from schemas.standard import Measuring

Quantity = Literal["length", "width", "area", "bag_depth", "loose_mass", "above_floor"]
Read: TypeAlias = ReadMillimetres | ReadMetres | ReadSquareMetres | ReadTonnes

NAMES: Final[dict[Quantity, str]] = {
    "length": "length",
    "width": "width",
    "area": "area",
    "bag_depth": "bagging depth",
    "loose_mass": "loose mass",
    "above_floor": "height above the floor",
}
COVERAGE: Final = 2
"""Expanded over standard uncertainty, for 95 %."""


@dataclass(frozen=True)
class Observation:
    """One observation of a damage, as its current revision has it."""

    id: str
    damage: Damage
    by_engineer: bool = False
    """Whether a geotechnical engineer stated it: only then a decided priority counts."""
    read_m: Decimal | None = None
    """Where it begins as it was read, where chainages were measured anew since."""


@dataclass(frozen=True)
class Reading:
    """One quantity as it was read, with half of its 95 % interval."""

    value: Decimal
    unit: str
    how: How
    plus_minus: Decimal | None
    """None: nobody knows how far it may be off."""

    @property
    def words(self) -> str:
        """As it is said: "640 ± 22 mm by photo"."""
        doubt = "" if self.plus_minus is None else f" ± {self.plus_minus.normalize() + 0:f}"
        return f"{self.value}{doubt} {self.unit} by {self.how}"

    def is_surely_within(self, limit: Decimal) -> bool:
        """Whether it lies below a limit with all its doubt."""
        return self.plus_minus is not None and self.value + self.plus_minus <= limit

    def is_surely_over(self, limit: Decimal) -> bool:
        """Whether it lies above a limit with all its doubt."""
        return self.plus_minus is not None and self.value - self.plus_minus > limit


def in_order(seen: Iterable[Observation]) -> tuple[Observation, ...]:
    """Put observations in the order in which they were seen.

    Parameters
    ----------
    seen : iterable of Observation
        Of one damage. [any]

    Returns
    -------
    tuple of Observation
        The oldest first. [any]

    Source
    ------
    Common practice, no source.
    """
    return tuple(sorted(seen, key=lambda it: (it.damage.seen_at, it.id, repr(it.damage))))


def readings(
    seen: Sequence[Observation], quantity: Quantity, measuring: Measuring | None
) -> tuple[Reading, ...]:
    """Give every reading of one quantity.

    Parameters
    ----------
    seen : sequence of Observation
        In the order in which they were seen. [any]
    quantity : Quantity
        Which. [-]
    measuring : Measuring or None
        How far readings may be off where nobody said; None where no standard says. [m]

    Returns
    -------
    tuple of Reading
        The oldest first. [unit of the quantity]

    Source
    ------
    JCGM 100:2008, 6.2 and 6.3.3: expanded uncertainty with a coverage factor of 2.
    """
    found = (getattr(it.damage.extent, quantity) for it in seen)
    return tuple(_reading(read, measuring) for read in found if read is not None)


def counting_reading(
    seen: Sequence[Observation], quantity: Quantity, measuring: Measuring | None
) -> Reading | None:
    """Give the reading of a quantity that counts: the newest, never a smaller one by eye.

    Parameters
    ----------
    seen : sequence of Observation
        In the order in which they were seen. [any]
    quantity : Quantity
        Which. [-]
    measuring : Measuring or None
        How far readings may be off where nobody said. [m]

    Returns
    -------
    Reading or None
        None where nobody read it. [unit of the quantity]

    Source
    ------
    Common practice, no source: what was measured is not put right by a glance.
    """
    counts: Reading | None = None
    for read in readings(seen, quantity, measuring):
        glance = read.how == "eye" and counts is not None and counts.how != "eye"
        if counts is None or not glance or read.value > counts.value:
            counts = read
    return counts


def _reading(read: Read, measuring: Measuring | None) -> Reading:
    if isinstance(read, ReadMillimetres):
        doubt = _length_doubt(read.how, read.value_mm, measuring, Decimal(1000))
        return Reading(read.value_mm, "mm", read.how, _stated(read.u95_mm, doubt))
    if isinstance(read, ReadMetres):
        doubt = _length_doubt(read.how, read.value_m, measuring, Decimal(1))
        return Reading(read.value_m, "m", read.how, _stated(read.u95_m, doubt))
    if isinstance(read, ReadSquareMetres):
        doubt = _by_share(read.value_m2, measuring)
        return Reading(read.value_m2, "m²", read.how, _stated(read.u95_m2, doubt))
    doubt = _by_share(read.value_t, measuring)
    return Reading(read.value_t, "t", read.how, _stated(read.u95_t, doubt))


def _stated(u95: Decimal | None, otherwise: Decimal | None) -> Decimal | None:
    return otherwise if u95 is None else u95


def _length_doubt(
    how: How, value: Decimal, measuring: Measuring | None, per_metre: Decimal
) -> Decimal | None:
    if how == "eye" or measuring is None:
        return _by_share(value, measuring)
    standard_m = measuring.tape_m if how == "tape" else measuring.photo_m
    return COVERAGE * standard_m * per_metre


def _by_share(value: Decimal, measuring: Measuring | None) -> Decimal | None:
    """Give the doubt of what was judged: areas and masses are, where nobody said more."""
    if measuring is None or measuring.eye_share is None:
        return None
    return COVERAGE * measuring.eye_share * value
