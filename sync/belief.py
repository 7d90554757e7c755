"""Whether what a tablet sealed counts: it is enrolled, or goes by a key handed on by one that is.

A cloned or restored tablet takes a new key by itself, underground, where no office is. What it
seals then counts as its old key's would, until the site says otherwise of either.
"""

from collections.abc import Callable, Iterable, Iterator

from sync.holdings import Held
from sync.names import SegmentName
from sync.tablet_identity import TabletIdentity
from sync.trust import Trust

MOST_HANDED_ON = 16


def segment_counts(
    trust: Trust,
    identity: Callable[[str], TabletIdentity | None],
    name: SegmentName,
    row: Iterable[Held],
) -> bool:
    """Whether a held segment counts; `row` are those that are held of its tablet."""
    believed = counts(trust, identity, name.tablet, name.seq)
    return believed and name not in off_the_branch(trust, name.tablet, row)


def off_the_branch(trust: Trust, tablet: str, row: Iterable[Held]) -> frozenset[SegmentName]:
    """Give what a cut proves to be on another branch than the one that the office cut.

    Whoever took a tablet can go back in its row and seal other segments under numbers before
    the cut. What the last believed segment follows is known from held segments alone; where a
    hole ends that, an older segment has the benefit of the doubt until the hole is filled.
    """
    if tablet not in trust.ends:
        return frozenset()
    held = {it.name: it for it in row}
    name: SegmentName | None = SegmentName(tablet, trust.cuts[tablet], trust.ends[tablet])
    branch: dict[int, SegmentName] = {}
    while name is not None:
        branch[name.seq] = name
        name = held[name].before if name in held else None
    return frozenset(it for it in held if it.seq in branch and branch[it.seq] != it)


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
    for before in former_ids(identity, tablet):
        if before in trust.cuts:
            return False
        if before in trust.tablets:
            return True
    return False


def former_ids(identity: Callable[[str], TabletIdentity | None], tablet: str) -> Iterator[str]:
    """Give the ids from which a tablet's key was handed on to it, the latest first."""
    for _ in range(MOST_HANDED_ON):
        known = identity(tablet)
        if known is None or known.predecessor_id is None:
            return
        tablet = known.predecessor_id
        yield tablet
