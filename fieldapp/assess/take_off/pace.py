"""How long a round took, and how much mesh went up in it."""

from datetime import timedelta
from decimal import Decimal

from schemas.bodies.work_seen import Used, WorkSeen
from schemas.numbers import STEP_M2, rounded
from schemas.standard import Mesh

_MINUTE = timedelta(minutes=1)


def minutes_of(work: WorkSeen) -> int | None:
    """Give how long the support of a round took, delays and all.

    Parameters
    ----------
    work : WorkSeen
        What was stated of it. [time]

    Returns
    -------
    int or None
        None where start or finish isn't known, or they contradict what else is stated. [min]

    Source
    ------
    Common practice, no source.
    """
    return None if times_contradict(work) else _stated_minutes(work)


def times_contradict(work: WorkSeen) -> bool:
    """Tell whether the times of a round can't be so: nothing is worked out from them then.

    Parameters
    ----------
    work : WorkSeen
        What was stated of it. [time]

    Returns
    -------
    bool
        It was finished before it was started, or held up for longer than it took. [-]

    Source
    ------
    Common practice, no source.
    """
    minutes = _stated_minutes(work)
    held_up = sum(it.minutes for it in work.delays or ())
    return minutes is not None and (minutes <= 0 or held_up > minutes)


def _stated_minutes(work: WorkSeen) -> int | None:
    if work.started_at is None or work.finished_at is None:
        return None
    return (work.finished_at - work.started_at) // _MINUTE


def meshed_m2(mesh: Mesh | None, used: Used) -> Decimal | None:
    """Give how much mesh went up, laps counted twice.

    Parameters
    ----------
    mesh : Mesh or None
        As the class has it. [m]
    used : Used
        What somebody counted: square metres, or whole pieces. [m², -]

    Returns
    -------
    Decimal or None
        None where nobody counted, or there is none to count. [m²]

    Source
    ------
    Common practice, no source.
    """
    if mesh is None or used.mesh_m2 is not None:
        return used.mesh_m2 if mesh is not None else None
    if used.mesh_pieces is None:
        return None
    return rounded(used.mesh_pieces * mesh.along_drive_m * mesh.across_m, STEP_M2)
