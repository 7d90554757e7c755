"""How fast steel and zinc rust in air: the categories of ISO 9223, and what years come to.

The categories are of open air. Water that stands or flows on steel underground, sour or salt,
is worse than any of them. A rate that was measured is classed in µm a year; the limits in grams
don't convert into these.
"""

from typing import Final, Literal

from schemas.corrosion_rules import Corrosivity

Metal = Literal["steel", "zinc"]

_UP_TO_UM: Final[dict[Metal, tuple[float, ...]]] = {
    "steel": (1.3, 25, 50, 80, 200, 700),
    "zinc": (0.1, 0.7, 2.1, 4.2, 8.4, 25),
}
_CATEGORIES: Final[tuple[Corrosivity, ...]] = ("C1", "C2", "C3", "C4", "C5", "CX")

EXPONENT: Final[dict[Metal, float]] = {"steel": 0.523, "zinc": 0.813}
"""b in D = r·tᵇ."""
POWER_YEARS: Final = 20.0
"""Until then the power law holds; afterwards it goes on in a straight line."""


def corrosivity(metal: Metal, um_per_year: float) -> Corrosivity | None:
    """Name the category of a first year's rate.

    Parameters
    ----------
    metal : Metal
        Steel or zinc. [-]
    um_per_year : float
        Lost from each surface in the first year. [µm/year]

    Returns
    -------
    Corrosivity or None
        An upper limit belongs to the milder category; None beyond the last. [-]

    Source
    ------
    ISO 9223:2012, table 2 (the column of zinc from memory).
    """
    limits = zip(_CATEGORIES, _UP_TO_UM[metal], strict=True)
    return next((category for category, limit in limits if um_per_year <= limit), None)


def range_um(metal: Metal, category: Corrosivity) -> tuple[float, float]:
    """Give between which rates of the first year a category lies.

    Parameters
    ----------
    metal : Metal
        Steel or zinc. [-]
    category : Corrosivity
        C1 to CX. [-]

    Returns
    -------
    (float, float)
        Above the first, up to the second. [µm/year]

    Source
    ------
    ISO 9223:2012, table 2 (the column of zinc from memory).
    """
    nth = _CATEGORIES.index(category)
    limits = (0.0, *_UP_TO_UM[metal])
    return limits[nth], limits[nth + 1]


def attack_um(metal: Metal, first_year_um: float, years: float) -> float:
    """Give what each surface has lost after some years in air.

    Parameters
    ----------
    metal : Metal
        Steel or zinc. [-]
    first_year_um : float
        Lost in the first year. [µm/year]
    years : float
        Since it was exposed, not negative. [years]

    Returns
    -------
    float
        r·tᵇ up to 20 years, then on in a straight line. [µm]

    Source
    ------
    ISO 9224:2012, equations for D = r·tᵇ and beyond 20 years (exponents from memory).
    """
    b = EXPONENT[metal]
    if years <= POWER_YEARS:
        return first_year_um * float(years**b)
    beyond = b * POWER_YEARS ** (b - 1) * (years - POWER_YEARS)
    return first_year_um * float(POWER_YEARS**b + beyond)
