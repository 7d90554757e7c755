"""`id.json`: a tablet says who it is, by its own key; the id is the hash of that key.

It proves that one key wrote a row of segments, not that the site believes it: that is said in
the records of trust alone.
"""

from typing import Annotated, Self

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from schemas.canonical import Unreadable, canonical_bytes, parse_json
from schemas.signatures import SigningKey, digest_of, is_signature
from sync.segment import tablet_id

PURPOSE = "lastrow tablet 1"
LONGEST = 16 * 1024
Hex64 = Annotated[str, Field(pattern="^[0-9a-f]{64}$")]
Signature = Annotated[str, Field(pattern="^[0-9a-f]{128}$")]


class TabletIdentity(BaseModel):
    """A tablet's certificate, signed by itself, and by the key that it had before."""

    model_config = ConfigDict(frozen=True, extra="allow")

    lastrow: int = 1
    tablet: Annotated[str, Field(pattern="^[a-z2-7]{16}$")]
    public_key: Hex64
    predecessor: Hex64 | None = None
    """The key that it went by before it found that somebody else goes by it too."""
    predecessor_sig: Signature | None = None
    sig: str = ""

    @classmethod
    def of_key(cls, key: SigningKey, *, before: SigningKey | None = None) -> Self:
        """Write the certificate of a key, and of the one before it, if there was one."""
        plain = cls(
            tablet=tablet_id(key.public_key),
            public_key=key.public_key,
            predecessor=before.public_key if before else None,
        )
        digest = plain._digest()
        handed_on = before.sign(PURPOSE, digest) if before else None
        return plain.model_copy(
            update={"sig": key.sign(PURPOSE, digest), "predecessor_sig": handed_on}
        )

    @property
    def predecessor_id(self) -> str | None:
        """The id of the tablet that it was before."""
        return tablet_id(self.predecessor) if self.predecessor else None

    def is_genuine(self) -> bool:
        """Whether the keys that it names signed it, and the id is the key's."""
        digest = self._digest()
        own = is_signature(self.public_key, self.sig, PURPOSE, digest)
        return own and self.tablet == tablet_id(self.public_key) and self._is_handed_on(digest)

    def content(self) -> bytes:
        """Write it as it stands in the share."""
        return canonical_bytes(self.model_dump(mode="json", exclude_none=True))

    def _is_handed_on(self, digest: bytes) -> bool:
        if self.predecessor is None:
            return True
        said = self.predecessor_sig or ""
        return is_signature(self.predecessor, said, PURPOSE, digest)

    def _digest(self) -> bytes:
        left_out = {"sig", "predecessor_sig"}
        return digest_of(self.model_dump(mode="json", exclude=left_out, exclude_none=True))


def read_tablet_identity(tablet: str, content: bytes) -> TabletIdentity | None:
    """Read a tablet's certificate; None where it is torn, forged, or another tablet's."""
    try:
        found = TabletIdentity.model_validate(parse_json(content, source=tablet))
    except (Unreadable, ValidationError):
        return None
    return found if found.tablet == tablet and found.is_genuine() else None
