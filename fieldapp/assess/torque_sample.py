"""Which bolts of a round are read for torque, also once one of them was out of its window."""

from collections.abc import Sequence

from fieldapp.assess.torque import first_every_nth_last, first_then_one_in
from schemas.bodies.round import TorqueSeen
from schemas.limits import TorqueLimit

NEXT = 2
"""So many bolts after one that was out are read as well."""

_RULES = {
    "first, every nth and last": first_every_nth_last,
    "first, then one in n": first_then_one_in,
}


def bolts_to_read(bolts: int, limit: TorqueLimit, read: Sequence[TorqueSeen]) -> tuple[int, ...]:
    """Name the bolts whose torque is read.

    Parameters
    ----------
    bolts : int
        Bolts demanded in the round. [-]
    limit : TorqueLimit
        The rule of the sample, and the window. [N·m]
    read : sequence of TorqueSeen
        Every reading, also those that a later one replaced. [N·m]

    Returns
    -------
    tuple of int
        The rule's own; the next two after one that was out, though it was torqued again; all
        of them once one of those was out too. Numbers from 1, in order. [-]

    Source
    ------
    The rule: see `fieldapp.assess.torque`. That the sample widens is common practice, no source.
    """
    sample = set(_RULES[limit.rule](bolts, limit.n))
    out = {one.bolt for one in read if _is_out(one, limit)}
    after = {n + step for n in out & sample for step in range(1, NEXT + 1) if n + step <= bolts}
    if out - sample or out & after:
        return tuple(range(1, bolts + 1))
    return tuple(sorted(sample | after))


def _is_out(one: TorqueSeen, limit: TorqueLimit) -> bool:
    return not limit.at_least_nm <= one.torque_nm <= limit.at_most_nm
