"""How long a distance in plan may be along the rock, where the back is higher in the middle."""

import math


def along_rock_m(plan_m: float, span_m: float, crown_m: float) -> float:
    """Bound how long a distance in plan is along the rock of an arched back.

    Parameters
    ----------
    plan_m : float
        In plan. [m]
    span_m : float
        Of the intersection. [m]
    crown_m : float
        How much higher its middle is than its edge. [m]

    Returns
    -------
    float
        At most so long, where it lies steepest: beside the edge of a circular arch of that span
        and rise; of a back that rises higher than half its span, the distance and the rise
        together. Never less than in plan. [m]

    Source
    ------
    Geometry of the circular arc; that a back is arched is common practice, no source.
    """
    half_m = span_m / 2
    if crown_m <= 0 or half_m <= 0:
        return plan_m
    if crown_m >= half_m or plan_m >= span_m:
        return plan_m + crown_m
    radius_m = (half_m**2 + crown_m**2) / (2 * crown_m)
    from_m = half_m - plan_m
    return radius_m * (math.asin(half_m / radius_m) - math.asin(from_m / radius_m))
