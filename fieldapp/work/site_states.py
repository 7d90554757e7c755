"""What the site itself states: who is enrolled, as what, and who no longer is.

Where the tablet belongs to a share, it is true once it stands in the share's records of
trust; where there is none, the site's certificate in the ledger is all there is.
"""

from collections.abc import Sequence

from fieldapp.store.pairing import NotPaired
from fieldapp.work.meeting import meeting
from fieldapp.work.site import Site
from schemas.entry import Entry
from schemas.signatures import SigningKey
from sync.trust import Act, State
from sync.trust_writing import write_trust


def is_paired(site: Site) -> bool:
    """Whether this machine belongs to a share."""
    try:
        site.store.holdings.trust()
    except NotPaired:
        return False
    return True


def state_as_site(
    site: Site, entries: Sequence[Entry], root: SigningKey, *, acts: Sequence[Act] = ()
) -> None:
    """State entries by the site's root key, with what else the record is to say.

    Raises
    ------
    NoShareNamed, NoShareHere, AnotherShare, ShareGone, ShareFull, ShareReadOnly, TrustNotRead
        The share can't be written now; nobody's standing has changed.
    """
    if not is_paired(site):
        site.store.ledger.add(entries)
        return
    said = [*acts, *(State(line=entry.line.decode()) for entry in entries)]
    write_trust(meeting(site, site.settings.share), said, root)
