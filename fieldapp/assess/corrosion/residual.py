"""What rust left of a bar, wire, tube or plate: of what is seen, so the whole has that at most.

Pits, cracks and the hidden length break the rule of areas, and never to the better.
"""

from decimal import Decimal
from typing import Final

from schemas.corrosion_rules import Steel
from schemas.numbers import STEP_SHARE, rounded

BOTH: Final = 2
"""Surfaces of a tube or plate that rust; a round bar or wire rusts all around."""
_SQUARED: Final[tuple[Steel, ...]] = ("bar", "wire", "plate")
"""What carries by the square of its diameter or thickness; a tube carries by its wall."""
_UM: Final = Decimal(1000)


def share_left(steel: Steel, new_mm: Decimal, left_mm: Decimal) -> Decimal:
    """Give the share of its capacity that a piece has left, at most.

    Parameters
    ----------
    steel : Steel
        Bar and wire are measured across, tube and plate through their thickness. [-]
    new_mm : Decimal
        Diameter or thickness when it was new, above 0. [mm]
    left_mm : Decimal
        Diameter or thickness now. [mm]

    Returns
    -------
    Decimal
        (d/d₀)² of bar and wire, t/t₀ of a tube, (t/t₀)² of a plate in bending; never above 1.
        [share]

    Source
    ------
    Geometry: area of a circle, of a thin ring; plastic moment of a rectangle, b·t²/4.
    """
    ratio = max(Decimal(0), left_mm) / new_mm
    share = ratio**2 if steel in _SQUARED else ratio
    return rounded(min(Decimal(1), share), STEP_SHARE)


def share_doubt(steel: Steel, new_mm: Decimal, left_mm: Decimal, u_mm: Decimal) -> Decimal:
    """Give how sure the share is, by how sure the reading was.

    Parameters
    ----------
    steel : Steel
        What was read. [-]
    new_mm : Decimal
        Diameter or thickness when it was new, above 0. [mm]
    left_mm : Decimal
        Diameter or thickness now. [mm]
    u_mm : Decimal
        Standard uncertainty of that reading. [mm]

    Returns
    -------
    Decimal
        Standard uncertainty. [share]

    Source
    ------
    JCGM 100:2008, 5.1.2, equation (10): the derivative of `share_left`.
    """
    slope = 2 * max(Decimal(0), left_mm) / new_mm if steel in _SQUARED else Decimal(1)
    return rounded(slope * u_mm / new_mm, STEP_SHARE)


def left_after_mm(
    steel: Steel, new_mm: Decimal, lost_um: Decimal, surfaces: int = BOTH
) -> Decimal:
    """Give what is left once each surface has lost so much.

    Parameters
    ----------
    steel : Steel
        Bar and wire lose it all around. [-]
    new_mm : Decimal
        Diameter or thickness when it was new. [mm]
    lost_um : Decimal
        From each surface. [µm]
    surfaces : int
        How many of a tube's or plate's surfaces rust, 1 or 2. [-]

    Returns
    -------
    Decimal
        Diameter or thickness, never below 0. [mm]

    Source
    ------
    Geometry.
    """
    return max(Decimal(0), new_mm - _surfaces(steel, surfaces) * lost_um / _UM)


def lost_um(steel: Steel, new_mm: Decimal, left_mm: Decimal, surfaces: int = BOTH) -> Decimal:
    """Give what each surface has lost.

    Parameters
    ----------
    steel : Steel
        Bar and wire lose it all around. [-]
    new_mm : Decimal
        Diameter or thickness when it was new. [mm]
    left_mm : Decimal
        Diameter or thickness now. [mm]
    surfaces : int
        How many of a tube's or plate's surfaces rust, 1 or 2. [-]

    Returns
    -------
    Decimal
        Negative where it was read larger than new. [µm]

    Source
    ------
    Geometry.
    """
    return (new_mm - left_mm) * _UM / _surfaces(steel, surfaces)


def thinnest_mm(steel: Steel, new_mm: Decimal, share: Decimal) -> Decimal:
    """Give the diameter or thickness at which so much of its capacity is left.

    Parameters
    ----------
    steel : Steel
        What it is. [-]
    new_mm : Decimal
        Diameter or thickness when it was new. [mm]
    share : Decimal
        The share that must be left, 0 to 1. [share]

    Returns
    -------
    Decimal
        d₀·√share of bar, wire and plate; t₀·share of a tube. [mm]

    Source
    ------
    Geometry, see `share_left`.
    """
    return new_mm * (share.sqrt() if steel in _SQUARED else share)


def _surfaces(steel: Steel, surfaces: int) -> int:
    return BOTH if steel in ("bar", "wire") else surfaces
