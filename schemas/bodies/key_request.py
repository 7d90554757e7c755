"""Somebody made a key under a sign code on a tablet, and asks the site to certify it."""

from schemas.identifiers import PublicKey, TabletId
from schemas.part import Part


class KeyRequest(Part):
    """A key that waits: it signs nothing that counts until the site states that it is theirs."""

    person: str
    """Id of whom the key is for, as the one at the tablet said."""
    public_key: PublicKey
    tablet: TabletId
    """The tablet on which the key was made and stays."""
