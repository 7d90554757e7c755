"""Whether what a tablet sealed counts: it is enrolled, or goes by a key handed on by one that is.

A cloned or restored tablet takes a new key by itself, underground, where no office is. What it
seals then counts as its old key's would, until the site says otherwise of either.
"""

from collections.abc import Callable

from sync.tablet_identity import TabletIdentity
from sync.trust import Trust

MOST_HANDED_ON = 16


def counts(
    trust: Trust, identity: Callable[[str], TabletIdentity | None], tablet: str, seq: int
) -> bool:
    """Whether a segment at this place of a tablet's row counts.

    Parameters
    ----------
    trust : Trust
        Who is enrolled, and who was cut.
    identity : callable
        Gives a tablet's certificate, which names the key before its own.
    tablet, seq
        The segment's place.
    """
    if tablet in trust.tablets or tablet in trust.cuts:
        return trust.believes(tablet, seq)
    for _ in range(MOST_HANDED_ON):
        known = identity(tablet)
        if known is None or known.predecessor_id is None:
            return False
        tablet = known.predecessor_id
        if tablet in trust.cuts:
            return False
        if tablet in trust.tablets:
            return True
    return False
