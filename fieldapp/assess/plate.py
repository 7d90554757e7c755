"""Plates and angles: what the gap under a plate's edge says about the bolt's angle."""

import math


def edge_gap_mm(plate_mm: float, tilt_deg: float) -> float:
    """Give the gap under the edge of a plate that sits on its other edge.

    Parameters
    ----------
    plate_mm : float
        Width of the plate. [mm]
    tilt_deg : float
        Between the plate and the rock. [deg]

    Returns
    -------
    float
        Gap at the far edge. [mm]

    Source
    ------
    Geometry: width · tan(tilt).
    """
    return plate_mm * math.tan(math.radians(tilt_deg))


def tilt_deg(plate_mm: float, gap_mm: float) -> float:
    """Give the tilt of a plate from the gap under its edge.

    Parameters
    ----------
    plate_mm : float
        Width of the plate. [mm]
    gap_mm : float
        Gap at the far edge. [mm]

    Returns
    -------
    float
        Between the plate and the rock. [deg]

    Source
    ------
    Geometry: atan(gap/width).
    """
    return math.degrees(math.atan2(gap_mm, plate_mm))


def depth_m(length_m: float, angle_deg: float) -> float:
    """Give how deep a bolt reaches, square to the rock.

    Parameters
    ----------
    length_m : float
        Length in the rock. [m]
    angle_deg : float
        Off the normal to the rock. [deg]

    Returns
    -------
    float
        Depth. [m]

    Source
    ------
    Geometry: length · cos(angle).
    """
    return length_m * math.cos(math.radians(angle_deg))
