"""Heads: the name says which segment a tablet sealed last; the body spares a listing.

A reader who is at most 64 segments behind finds in the body which files to fetch. The body is
signed, and missing or torn it costs a listing, never an entry.
"""

from collections.abc import Sequence
from typing import Annotated, Self

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from schemas.canonical import Unreadable, canonical_bytes, parse_json
from schemas.signatures import SigningKey, digest_of, is_signature
from sync.holdings import Held
from sync.names import HeadName, SegmentName

PURPOSE = "lastrow head 1"
NAMED_IN_A_HEAD = 64
LONGEST = 64 * 1024

Hash16 = Annotated[str, Field(pattern="^[0-9a-f]{16}$")]
Seq = Annotated[int, Field(ge=1, le=99_999_999)]


class Head(BaseModel):
    """The last segments of a tablet's row, and how far it has come otherwise."""

    model_config = ConfigDict(frozen=True, extra="allow")

    lastrow: int = 1
    tablet: Annotated[str, Field(pattern="^[a-z2-7]{16}$")]
    last: Annotated[tuple[tuple[Seq, Hash16], ...], Field(min_length=1, max_length=64)]
    """Number and hash of each, the oldest first."""
    trust: Annotated[int, Field(ge=0)] = 0
    """The highest record of trust that the tablet has seen."""
    program: str = ""
    """The version of the program, for whoever plans a roll-out."""
    sig: str = ""

    @classmethod
    def of_row(cls, row: Sequence[SegmentName], *, trust: int, program: str) -> Self:
        """Give the unsigned head of a row of segments, which are in their order."""
        last = tuple((it.seq, it.hash16) for it in row[-NAMED_IN_A_HEAD:])
        return cls(tablet=row[-1].tablet, last=last, trust=trust, program=program)

    @property
    def name(self) -> HeadName:
        """Its file's name."""
        return HeadName(self.tablet, *self.last[-1])

    def segments(self) -> tuple[SegmentName, ...]:
        """Give the segments that it names."""
        return tuple(SegmentName(self.tablet, seq, hash16) for seq, hash16 in self.last)

    def signed(self, key: SigningKey) -> Self:
        """Give it with the tablet's signature."""
        return self.model_copy(update={"sig": key.sign(PURPOSE, self._digest())})

    def is_signed_by(self, public_key: str) -> bool:
        """Whether the tablet with this key wrote it."""
        return is_signature(public_key, self.sig, PURPOSE, self._digest())

    def content(self) -> bytes:
        """Write it as it stands in the share."""
        return canonical_bytes(self.model_dump(mode="json"))

    def _digest(self) -> bytes:
        return digest_of(self.model_dump(mode="json", exclude={"sig"}))


def branch_to(held: Sequence[Held], end: SegmentName) -> tuple[SegmentName, ...]:
    """Give the last segments of the branch of a row that ends in one, the oldest first."""
    before = {it.name: it.before for it in held}
    found: list[SegmentName] = []
    name: SegmentName | None = end
    while name is not None and name in before and len(found) < NAMED_IN_A_HEAD:
        found.append(name)
        name = before[name]
    return tuple(reversed(found))


def read_head(name: HeadName, content: bytes, *, public_key: str) -> Head | None:
    """Read a head's body; None where it is torn, another's, or doesn't fit its name."""
    try:
        head = Head.model_validate(parse_json(content, source=name.path))
    except (Unreadable, ValidationError):
        return None
    return head if head.name == name and head.is_signed_by(public_key) else None
