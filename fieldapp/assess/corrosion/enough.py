"""Whether a reading of steel surely leaves what must be left."""

from decimal import Decimal
from typing import Literal

from fieldapp.assess.corrosion.readings import BEYOND_DOUBT
from fieldapp.assess.corrosion.residual import thinnest_mm
from schemas.corrosion_rules import Steel

Enough = Literal["enough", "not sure", "too little"]


def enough_left(
    steel: Steel, new_mm: Decimal, read_mm: Decimal, u_mm: Decimal, share_at_least: Decimal
) -> Enough:
    """Tell whether a reading leaves what must be left, with its doubt.

    Parameters
    ----------
    steel : Steel
        What was read. [-]
    new_mm : Decimal
        Diameter or thickness when it was new, above 0. [mm]
    read_mm : Decimal
        As it was read. [mm]
    u_mm : Decimal
        Standard uncertainty of that reading. [mm]
    share_at_least : Decimal
        Of its capacity, by the standard. [share]

    Returns
    -------
    Enough
        "not sure" where the limit lies within two standard uncertainties of the reading. [-]

    Source
    ------
    JCGM 100:2008, 6.3.3: twice the standard uncertainty covers 95 %; see `thinnest_mm`.
    """
    least_mm, off_mm = thinnest_mm(steel, new_mm, share_at_least), BEYOND_DOUBT * u_mm
    if read_mm + off_mm < least_mm:
        return "too little"
    return "not sure" if read_mm - off_mm < least_mm else "enough"
