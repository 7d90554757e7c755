"""`id.json`: a tablet says who it is, by its own key; the id is the hash of that key.

It proves that one key wrote a row of segments, not that the site believes it: that is said in
the records of trust alone.
"""

from typing import Any, Self

from pydantic import ValidationError

from schemas.canonical import Unreadable, parse_json
from schemas.identifiers import PublicKey, Signature, TabletId
from schemas.signatures import SigningKey
from sync.segment import tablet_id
from sync.signed_file import SignedFile

LONGEST = 16 * 1024


class TabletIdentity(SignedFile):
    """A tablet's certificate, signed by itself, and by the key that it had before."""

    purpose = "lastrow tablet 1"
    unsigned = frozenset({"sig", "predecessor_sig"})

    tablet: TabletId
    public_key: PublicKey
    predecessor: PublicKey | None = None
    """The key that it went by before it found that somebody else goes by it too."""
    predecessor_sig: Signature | None = None

    @classmethod
    def of_key(cls, key: SigningKey, *, before: SigningKey | None = None) -> Self:
        """Write the certificate of a key, and of the one before it, if there was one."""
        plain = cls(
            tablet=tablet_id(key.public_key),
            public_key=key.public_key,
            predecessor=before.public_key if before else None,
        )
        handed_on = before.sign(cls.purpose, plain.digest()) if before else None
        return plain.signed(key).model_copy(update={"predecessor_sig": handed_on})

    @property
    def predecessor_id(self) -> str | None:
        """The id of the tablet that it was before."""
        return tablet_id(self.predecessor) if self.predecessor else None

    def is_genuine(self) -> bool:
        """Whether the keys that it names signed it, and the id is the key's."""
        own = self.is_signed_by(self.public_key)
        return own and self.tablet == tablet_id(self.public_key) and self._is_handed_on()

    def says(self, leaving_out: frozenset[str] = frozenset()) -> dict[str, Any]:
        """Give its fields as they are written; the first key of a tablet follows none."""
        return self.model_dump(mode="json", exclude=set(leaving_out), exclude_none=True)

    def _is_handed_on(self) -> bool:
        if self.predecessor is None:
            return True
        return self.bears(self.predecessor_sig or "", self.predecessor)


def read_tablet_identity(tablet: str, content: bytes) -> TabletIdentity | None:
    """Read a tablet's certificate; None where it is torn, forged, or another tablet's."""
    try:
        found = TabletIdentity.model_validate(parse_json(content, source=tablet))
    except (Unreadable, ValidationError):
        return None
    return found if found.tablet == tablet and found.is_genuine() else None
