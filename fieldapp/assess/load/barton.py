"""The Q-system: how good rock is, and the pressure, span and bolts that its authors tie to it.

Barton's two forms of the pressure differ, so a standard names the one that it rests on. The
form of 1974 is in kg/cm²; read as MPa it would be ten times too high.
"""

import math
from typing import Final

KPA_OF_KG_PER_CM2: Final = 98.0665
"""1 kg/cm² is 98.0665 kPa (NIST SP 811)."""

_LEAST_RQD: Final = 10.0


def q_value(
    rqd_percent: float, joint_sets: float, roughness: float, alteration: float,
    water: float, stress: float,
) -> float:  # fmt: skip
    """Give the quality of a rock mass from its six ratings.

    Parameters
    ----------
    rqd_percent : float
        Rock quality designation; below 10 it counts as 10. [%]
    joint_sets, roughness, alteration : float
        Jn, Jr and Ja, above 0. [-]
    water, stress : float
        Jw and SRF, above 0. [-]

    Returns
    -------
    float
        Q = RQD/Jn · Jr/Ja · Jw/SRF. [-]

    Source
    ------
    Barton, Lien and Lunde 1974 (from memory).
    """
    rqd = max(rqd_percent, _LEAST_RQD)
    return rqd / joint_sets * roughness / alteration * water / stress


def wall_q(q: float) -> float:
    """Give the quality that counts for a wall: rock falls out of it less readily.

    Parameters
    ----------
    q : float
        Q of the rock. [-]

    Returns
    -------
    float
        5 Q above 10, 2.5 Q from 0.1 to 10, Q below 0.1. [-]

    Source
    ------
    Barton, Lien and Lunde 1974 (from memory).
    """
    if q > 10:  # noqa: PLR2004 (bounds of the source)
        return 5 * q
    return 2.5 * q if q >= 0.1 else q  # noqa: PLR2004


def pressure_1974_kpa(q: float, joint_sets: float, roughness: float) -> float:
    """Give the pressure on permanent support by the number of joint sets.

    Parameters
    ----------
    q : float
        Q, above 0. [-]
    joint_sets : float
        Jn. [-]
    roughness : float
        Jr, above 0. [-]

    Returns
    -------
    float
        2·√Jn·Q^(-1/3)/(3·Jr) kg/cm². [kPa]

    Source
    ------
    Barton, Lien and Lunde 1974 (from memory).
    """
    return 2 * math.sqrt(joint_sets) * math.pow(q, -1 / 3) / (3 * roughness) * KPA_OF_KG_PER_CM2


def pressure_simple_kpa(q: float, roughness: float) -> float:
    """Give the pressure on permanent support in its older and simpler form.

    Parameters
    ----------
    q : float
        Q, above 0. [-]
    roughness : float
        Jr, above 0. [-]

    Returns
    -------
    float
        200/Jr·Q^(-1/3). [kPa]

    Source
    ------
    Barton, Lien and Lunde 1974, in kPa as usually written (from memory): 2 kg/cm² rounded to
    200 kPa, 2 % more.
    """
    return 200 / roughness * math.pow(q, -1 / 3)


def unsupported_span_m(q: float, esr: float) -> float:
    """Give the widest span that stands without support.

    Parameters
    ----------
    q : float
        Q, above 0. [-]
    esr : float
        Excavation support ratio. [-]

    Returns
    -------
    float
        2·ESR·Q^0.4. [m]

    Source
    ------
    Barton, Lien and Lunde 1974 (from memory).
    """
    return 2 * esr * math.pow(q, 0.4)


def equivalent_span_m(span_m: float, esr: float) -> float:
    """Give the span as the chart of the Q-system counts it.

    Parameters
    ----------
    span_m : float
        Width of the drive. [m]
    esr : float
        Excavation support ratio, above 0. [-]

    Returns
    -------
    float
        De = span/ESR. [m]

    Source
    ------
    Barton, Lien and Lunde 1974 (from memory).
    """
    return span_m / esr


def bolt_length_m(span_m: float, esr: float) -> float:
    """Give the length of bolts for a span.

    Parameters
    ----------
    span_m : float
        Width of the drive; of walls, their height. [m]
    esr : float
        Excavation support ratio, above 0. [-]

    Returns
    -------
    float
        2 + 0.15·span/ESR. [m]

    Source
    ------
    Barton et al. 1980 (from memory).
    """
    return 2 + 0.15 * equivalent_span_m(span_m, esr)
