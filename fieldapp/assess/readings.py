"""Which of several readings of one thing stands: the latest."""

from collections.abc import Iterable
from decimal import Decimal

from schemas.bodies.round import LengthReading, Round, SpacingSeen, TorqueSeen

BOLTS_DRAWN = 3
"""So many bolts of a round are drawn to be looked at one by one."""

PROBES = 3
"""Fewer probes of shotcrete say nothing of a round: shoulders are thin, crowns thick."""


def face_readings(seen: Round) -> dict[str, LengthReading]:
    """Give the latest reading to the face at each place.

    Parameters
    ----------
    seen : Round
        The round. [m]

    Returns
    -------
    dict of place and LengthReading
        "left", "middle", "right", those that were read. [m]

    Source
    ------
    Common practice, no source.
    """
    return {face.where: face.reading for face in seen.face_readings}


def last_row_m(seen: Round) -> Decimal:
    """Give the chainage of the last row, as it was read.

    Parameters
    ----------
    seen : Round
        The round: its joint, and how far each row stands ahead. [m]

    Returns
    -------
    Decimal
        A row that nobody read stands where the row before it does. [m]

    Source
    ------
    Common practice, no source.
    """
    ahead = (row.ahead_of_row_before for row in seen.rows)
    return seen.joint_m + sum((it.value_m for it in ahead if it is not None), Decimal(0))


def spacing_readings(spacings: Iterable[SpacingSeen]) -> tuple[SpacingSeen, ...]:
    """Give the latest reading of each spacing in a row.

    Parameters
    ----------
    spacings : iterable of SpacingSeen
        In the order in which they were read. [m]

    Returns
    -------
    tuple of SpacingSeen
        One for each pair of positions. [m]

    Source
    ------
    Common practice, no source.
    """
    latest = {
        tuple(sorted((one.from_position, one.to_position))): one
        for one in spacings
        if one.from_position != one.to_position
    }
    return tuple(latest.values())


def torque_readings(torques: Iterable[TorqueSeen]) -> dict[int, TorqueSeen]:
    """Give the latest torque of each bolt, none of one that is gone.

    Parameters
    ----------
    torques : iterable of TorqueSeen
        In the order in which they were read. [N·m]

    Returns
    -------
    dict of bolt number and TorqueSeen
        Bolts numbered in the order of rows and positions. [N·m]

    Source
    ------
    Common practice, no source.
    """
    return {one.bolt: one for one in torques if not one.gone}
