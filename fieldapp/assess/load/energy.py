"""What rock that is thrown out brings to its support, over its area."""

from fieldapp.assess.capacity import slab_pressure_kpa


def thrown_kj_per_m2(thickness_m: float, density_kg_m3: float, velocity_m_s: float) -> float:
    """Give the energy of motion of a slab that is thrown out.

    Parameters
    ----------
    thickness_m : float
        Of the slab. [m]
    density_kg_m3 : float
        Of the rock. [kg/m3]
    velocity_m_s : float
        How fast it comes. [m/s]

    Returns
    -------
    float
        ½·ρ·t·v². [kJ/m2]

    Source
    ------
    Physics.
    """
    return density_kg_m3 * thickness_m * velocity_m_s**2 / 2 / 1000


def fallen_kj_per_m2(thickness_m: float, density_kg_m3: float, travel_m: float) -> float:
    """Give the energy that a slab of the back gains while its support yields.

    Parameters
    ----------
    thickness_m : float
        Of the slab. [m]
    density_kg_m3 : float
        Of the rock. [kg/m3]
    travel_m : float
        How far the support yields. [m]

    Returns
    -------
    float
        ρ·g·t times the travel; a wall's slab does not fall. [kJ/m2]

    Source
    ------
    Physics; g = 9.81 m/s².
    """
    return slab_pressure_kpa(thickness_m, density_kg_m3) * travel_m
