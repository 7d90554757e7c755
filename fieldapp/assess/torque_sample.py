"""Which bolts of a round are read for torque, also once one of them was out of its window."""

from collections.abc import Iterable, Sequence

from fieldapp.assess.torque import first_every_nth_last, first_then_one_in
from schemas.bodies.round import TorqueSeen
from schemas.limits import TorqueLimit

NEXT = 2
"""So many bolts after one that was out are read as well."""

_RULES = {
    "first, every nth and last": first_every_nth_last,
    "first, then one in n": first_then_one_in,
}


def bolts_to_read(
    there: Sequence[bool], limit: TorqueLimit, read: Sequence[TorqueSeen]
) -> tuple[int, ...]:
    """Name the bolts whose torque is read.

    Parameters
    ----------
    there : sequence of bool
        Each bolt demanded in the round, in order: whether there is one. [-]
    limit : TorqueLimit
        The rule of the sample, and the window. [N·m]
    read : sequence of TorqueSeen
        Every reading, also those that a later one replaced. [N·m]

    Returns
    -------
    tuple of int
        The rule's own, or the next bolt that is there instead; the next two after one that was
        out, though it was torqued again; all of them once one of those was out too. Numbers from
        1, in order, none of a bolt that is missing, broken or given up. [-]

    Source
    ------
    The rule: see `fieldapp.assess.torque`; 30 CFR 57.3203(f)(2) speaks of bolts installed. That
    the next one stands in for one that is not there, and that the sample widens, is common
    practice, no source.
    """
    named = set(_RULES[limit.rule](len(there), limit.n))
    present = [number for number, is_there in enumerate(there, start=1) if is_there]
    sample = _standing_in(named, present)
    out = {one.bolt for one in read if _is_out(one, limit)}
    after = {
        one for n in out & (named | sample) for one in [it for it in present if it > n][:NEXT]
    }
    if out - sample - named or out & after:
        return tuple(present)
    return tuple(sorted(sample | after))


def _standing_in(named: Iterable[int], present: Sequence[int]) -> set[int]:
    """Give each bolt, or the next one that is there; the last one there where none comes after."""
    last = present[-1:]
    return {one for n in named for one in ([it for it in present if it >= n] or last)[:1]}


def _is_out(one: TorqueSeen, limit: TorqueLimit) -> bool:
    return not limit.at_least_nm <= one.torque_nm <= limit.at_most_nm
