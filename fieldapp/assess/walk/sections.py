"""Supported ground cut into sections, each answered once on a walk."""

from dataclasses import dataclass
from decimal import ROUND_FLOOR, Decimal


@dataclass(frozen=True)
class Section:
    """A piece of supported ground along the drive, by its chainages in metres."""

    from_m: Decimal
    to_m: Decimal

    def overlaps(self, from_m: Decimal, to_m: Decimal) -> bool:
        """Whether some ground of it lies between two chainages; a shared border is none."""
        return from_m < self.to_m and to_m > self.from_m

    def is_mostly(self, other: "Section") -> bool:
        """Whether another covers half of it or more: chainages may have moved since it was cut."""
        covered_m = min(self.to_m, other.to_m) - max(self.from_m, other.from_m)
        return 2 * covered_m >= self.to_m - self.from_m


def sections_of(from_m: Decimal, to_m: Decimal, section_m: Decimal) -> tuple[Section, ...]:
    """Cut ground into sections whose borders are multiples of their length.

    So a border stays where it was while the drive advances, and two tablets cut alike.

    Parameters
    ----------
    from_m : Decimal
        Chainage where the ground begins. [m]
    to_m : Decimal
        Chainage where it ends. [m]
    section_m : Decimal
        Length of one section. [m]

    Returns
    -------
    tuple of Section
        From the origin inbye; the first and the last may be shorter. None where there is no
        ground. [m]

    Raises
    ------
    ValueError
        A length that is not positive.

    Source
    ------
    Common practice, no source.
    """
    found = []
    while from_m < to_m:
        border_m = (section_number(from_m, section_m) + 1) * section_m
        found.append(Section(from_m, min(border_m, to_m)))
        from_m = border_m
    return tuple(found)


def section_number(chainage_m: Decimal, section_m: Decimal) -> int:
    """Say in which section a place is: the same whatever else is known of the drive.

    Parameters
    ----------
    chainage_m : Decimal
        The place. [m]
    section_m : Decimal
        Length of one section. [m]

    Returns
    -------
    int
        0 for the one that begins at the origin. A place on a border is in the section inbye of
        it. [-]

    Raises
    ------
    ValueError
        A length that is not positive.

    Source
    ------
    Common practice, no source.
    """
    if section_m <= 0:
        raise ValueError(f"no sections of {section_m} m")
    return int((chainage_m / section_m).to_integral_value(ROUND_FLOOR))
