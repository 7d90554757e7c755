"""Bringing everything of a share into one archive that is nobody's tablet.

Nothing is written into the share, and nothing is taken on trust: segments by the hash in their
name and their tablet's signature, records by the site's root key. Safe to stop, kill and
repeat at any point, and by several at once.
"""

from dataclasses import dataclass

from schemas.trouble import BadInput
from sync.lying import Lying, lying_in, tablets_in, take_in_lying
from sync.outcome import Outcome, Stopped
from sync.pulling import pull
from sync.share_identity import ShareIdentity
from sync.trust import Trust
from sync.trust_exchange import read_trust
from sync.visit import Visit


@dataclass(eq=False)
class AnotherMine(BadInput):
    """A share is not the one that the archive was filled from."""

    place: str
    found: str
    known: str
    happened = "{place} is share {found}, and what was collated before came from {known}."
    kept = "Nothing was taken from it; everything collated before is as it was."
    do_next = "Name the right folder, or collate this one into a database of its own."


@dataclass(eq=False)
class RootKeyDiffers(BadInput):
    """A share is not signed by the key by which its site is known."""

    place: str
    found: str
    expected: str
    happened = (
        "{place} is not signed by the site's root key, whose check number is {expected}: "
        "the keys that it names have {found}."
    )
    kept = "Nothing was taken from it."
    do_next = "Don't rely on that folder: ask the records keeper whose it is."


def refuse_another(identity: ShareIdentity, known: Trust, place: str) -> None:
    """Refuse a share of another mine, and one whose keys are not those that were known.

    Raises
    ------
    AnotherMine
        It is another, or somebody made it anew with keys of their own.
    """
    if identity.store != known.store or not set(identity.root_keys) <= set(known.root_keys):
        raise AnotherMine(place, identity.store, known.store)


def collate(visit: Visit) -> Outcome:
    """Take in everything of a share that is not held.

    What lies in the folders is taken in row by row, the oldest first; then what only heads and
    the rows themselves tell of, where a folder shows less than there is.

    Returns
    -------
    Outcome
        What came in, waits and was refused; also whether it was stopped.

    Raises
    ------
    ShareGone
        It ended half-way: what was done is done, the rest waits.
    """
    try:
        read_trust(visit)
        _take_in_all(visit)
        visit.look_at_heads()
        pull(visit)
    except Stopped:
        visit.outcome.stopped = True
    visit.name_odd_tablets()
    return visit.outcome


def _take_in_all(visit: Visit) -> None:
    lying = {it: lying_in(visit, it) for it in sorted(tablets_in(visit))}
    visit.to_read = sum(_not_held(visit, tablet, it) for tablet, it in lying.items())
    for tablet, found in lying.items():
        visit.has_read()
        take_in_lying(visit, tablet, found)


def _not_held(visit: Visit, tablet: str, found: Lying) -> int:
    return len(found.sizes.keys() - visit.held(tablet))
