"""Torque at installation: which bolts the rule asks for."""


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
