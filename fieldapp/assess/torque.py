"""Torque at installation: which bolts the rule asks for, and the window of tension."""

NEWTON_METRES_PER_FOOT_POUND = 1.3558179483314004
KILONEWTONS_PER_POUND_FORCE = 0.0044482216152605


def first_every_nth_last(bolts: int, n: int) -> tuple[int, ...]:
    """Name the bolts to test: the first, every n-th, and the last.

    Parameters
    ----------
    bolts : int
        Bolts installed in one work area and shift. [-]
    n : int
        Every n-th. [-]

    Returns
    -------
    tuple of int
        Numbers from 1, in order. [-]

    Source
    ------
    30 CFR 57.3203(f)(2), n = 10. The text leaves open whether every tenth is 10, 20, … or
    11, 21, …; read as 10, 20, ….
    """
    if bolts < 1:
        return ()
    return tuple(sorted({1, *range(n, bolts + 1, n), bolts}))


def first_then_one_in(bolts: int, n: int) -> tuple[int, ...]:
    """Name the bolts to test: the first, then the last of every n that follow.

    Parameters
    ----------
    bolts : int
        Bolts installed. [-]
    n : int
        One in n. [-]

    Returns
    -------
    tuple of int
        Numbers from 1, in order; a last group that is not full has its test too. [-]

    Source
    ------
    30 CFR 75.204(f) (the first, then one in four; from memory).
    """
    if bolts < 1:
        return ()
    return tuple(sorted({1, *range(1 + n, bolts + 1, n), bolts}))


def tension_window_kn(yield_kn: float, anchorage_kn: float) -> tuple[float, float]:
    """Give the window for the tension of a torque-tensioned bolt.

    Parameters
    ----------
    yield_kn : float
        Yield load of the bolt. [kN]
    anchorage_kn : float
        What the anchorage holds. [kN]

    Returns
    -------
    (float, float)
        Half of the lesser, and the lesser. [kN]

    Source
    ------
    30 CFR 57.3203(f)(1); 30 CFR 75.222(b)(2) for the lower end.
    """
    least = min(yield_kn, anchorage_kn)
    return least / 2, least


def newton_metres(foot_pounds: float) -> float:
    """Convert a torque.

    Parameters
    ----------
    foot_pounds : float
        Torque. [ft·lbf]

    Returns
    -------
    float
        The same torque. [N·m]

    Source
    ------
    NIST SP 811, appendix B.8.
    """
    return foot_pounds * NEWTON_METRES_PER_FOOT_POUND


def kilonewtons(pounds_force: float) -> float:
    """Convert a load.

    Parameters
    ----------
    pounds_force : float
        Load. [lbf]

    Returns
    -------
    float
        The same load. [kN]

    Source
    ------
    NIST SP 811, appendix B.8.
    """
    return pounds_force * KILONEWTONS_PER_POUND_FORCE
