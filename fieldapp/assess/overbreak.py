"""What overbreak does to the line that must be supported, and to the area of the face."""


def arch_lengthening_m(half_angle_rad: float, overbreak_m: float) -> float:
    """Say how much longer an arch becomes by an even overbreak.

    Parameters
    ----------
    half_angle_rad : float
        Half angle of the arch. [rad]
    overbreak_m : float
        Rock broken beyond the arch, square to it. [m]

    Returns
    -------
    float
        Additional length along the rock. [m]

    Source
    ------
    Geometry: 2·θ·o.
    """
    return 2 * half_angle_rad * overbreak_m


def overbreak_percent(designed_m2: float, measured_m2: float) -> float:
    """Say how much more was broken than designed.

    Parameters
    ----------
    designed_m2 : float
        Area of the face as designed. [m2]
    measured_m2 : float
        Area of the face as measured. [m2]

    Returns
    -------
    float
        Negative for a tight profile. [%]

    Source
    ------
    Common practice, no source.
    """
    return (measured_m2 / designed_m2 - 1) * 100
