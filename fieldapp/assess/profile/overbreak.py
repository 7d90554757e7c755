"""What overbreak does to the area of the face."""


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
