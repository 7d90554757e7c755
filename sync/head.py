"""Heads: the name says which segment a tablet sealed last; the body spares a listing.

A reader who is at most 64 segments behind finds in the body which files to fetch. The body is
signed, and missing or torn it costs a listing, never an entry.
"""

from collections.abc import Sequence
from typing import Annotated, Self

from pydantic import Field, ValidationError

from schemas.canonical import Unreadable, parse_json
from schemas.identifiers import SegmentNumber, ShortHash, TabletId
from sync.holdings import Held
from sync.names import HeadName, SegmentName
from sync.signed_file import SignedFile

NAMED_IN_A_HEAD = 64
LONGEST = 64 * 1024
Named = tuple[SegmentNumber, ShortHash]


class Head(SignedFile):
    """The last segments of a tablet's row, and how far it has come otherwise.

    Its tablet signs it.
    """

    purpose = "lastrow head 1"

    tablet: TabletId
    last: Annotated[
        tuple[tuple[SegmentNumber, ShortHash], ...], Field(min_length=1, max_length=64)
    ]
    """Number and hash of each, the oldest first."""
    trust: Annotated[int, Field(ge=0)] = 0
    """The highest record of trust that the tablet has seen."""
    program: str = ""
    """The version of the program, for whoever plans a roll-out."""

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
