"""How many pixels make a millimetre, so that a key is as tall as a thumb on every tablet."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import hypot

from schemas.trouble import BadInput

DP_PER_MM = 160 / 25.4
"""A dp is a pixel of a screen with 160 pixels per inch."""

LEAST_PPI, MOST_PPI = 60.0, 700.0


@dataclass(frozen=True)
class Screen:
    """A tablet's screen as its data sheet states it."""

    width_px: int
    height_px: int
    diagonal_in: float

    @property
    def ppi(self) -> float:
        """Pixels per inch."""
        return hypot(self.width_px, self.height_px) / self.diagonal_in


USUAL = Screen(1280, 800, 10.1)
"""Most rugged tablets; the sizes are tested on it."""


@dataclass(eq=False)
class BadPixelsPerInch(BadInput):
    """The screen's pixels per inch are no number that a screen can have."""

    ppi: str
    happened = "LASTROW_PPI is {ppi}, which no tablet's screen has."
    kept = "Nothing was changed."
    do_next = "Set it to the pixels per inch of this screen, for example 149."


def density(ppi: float) -> float:
    """Give the pixels of one dp."""
    return ppi / 160


def chosen_ppi(environment: Mapping[str, str]) -> float:
    """Give what LASTROW_PPI says, or the usual screen's pixels per inch."""
    told = environment.get("LASTROW_PPI", "").strip()
    if not told:
        return USUAL.ppi
    try:
        ppi = float(told)
    except ValueError as error:
        raise BadPixelsPerInch(ppi=told) from error
    if not LEAST_PPI <= ppi <= MOST_PPI:
        raise BadPixelsPerInch(ppi=told)
    return ppi
