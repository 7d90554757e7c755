"""The common form of the small files of a share: canonical JSON that somebody signs."""

from typing import Any, ClassVar, Literal, Self

from pydantic import BaseModel, ConfigDict

from schemas.canonical import canonical_bytes
from schemas.identifiers import Signature
from schemas.signatures import SigningKey, digest_of, is_signature


class SignedFile(BaseModel):
    """What a file says, and a signature over all of it. A newer version's fields are kept."""

    model_config = ConfigDict(frozen=True, extra="allow")
    purpose: ClassVar[str]
    """What the signature is good for, and for nothing else."""
    unsigned: ClassVar[frozenset[str]] = frozenset({"sig"})
    """The fields that hold signatures."""

    lastrow: int = 1
    sig: Signature | Literal[""] = ""

    def signed(self, key: SigningKey) -> Self:
        """Give it with a signature."""
        return self.model_copy(update={"sig": key.sign(self.purpose, self.digest())})

    def is_signed_by(self, public_key: str) -> bool:
        """Whether the signature was made with this key."""
        return self.bears(self.sig, public_key)

    def bears(self, signature: str, public_key: str) -> bool:
        """Whether a signature over what it says was made with this key."""
        return is_signature(public_key, signature, self.purpose, self.digest())

    def content(self) -> bytes:
        """Write it as it stands in the share."""
        return canonical_bytes(self.says())

    def digest(self) -> bytes:
        """Give the SHA-256 that is signed."""
        return digest_of(self.says(leaving_out=self.unsigned))

    def says(self, leaving_out: frozenset[str] = frozenset()) -> dict[str, Any]:
        """Give its fields as they are written."""
        return self.model_dump(mode="json", exclude=set(leaving_out))
