"""The weight of broken rock that a bay of mesh may have to hold."""

from decimal import Decimal
from typing import Final

G_KN_PER_T: Final = Decimal("9.81")


def bay_load_kn(area_m2: Decimal, loosened_m: Decimal, rock_kn_per_m3: Decimal) -> Decimal:
    """Give the weight of the broken rock that one bay may have to hold.

    Parameters
    ----------
    area_m2 : Decimal
        The bay. [m2]
    loosened_m : Decimal
        Thickness of the broken rock. [m]
    rock_kn_per_m3 : Decimal
        Its unit weight. [kN/m3]

    Returns
    -------
    Decimal
        Weight, spread over the bay. [kN]

    Source
    ------
    Weight is unit weight times volume.
    """
    return area_m2 * loosened_m * rock_kn_per_m3
