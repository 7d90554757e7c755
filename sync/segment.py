"""Segments: up to 200 entries in one sealed file that only one tablet can have written.

A header line of canonical JSON, a newline, then the entries' lines as gzip. The header
names the tablet, its number in the tablet's row of segments, the hash of the segment
before, counts and the hash of the packed lines, and carries the tablet's signature over all
of that (`lastrow segment 1`). The file's name carries its number and the hash of its bytes.
Pure: bytes in, bytes out.
"""

import base64
import gzip
import hashlib
import zlib
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from schemas.canonical import Unreadable, canonical_bytes, parse_json
from schemas.entry import Entry, read_entry
from schemas.identifiers import SegmentNumber, Sha256, TabletId
from schemas.signatures import SigningKey, digest_of, is_signature
from schemas.trouble import BadInput
from sync.labels import Label, label_of

FORMAT: Literal[1] = 1
PURPOSE = "lastrow segment 1"
SCOPE = "mine"
MOST_ENTRIES = 200
USUAL_RAW_BYTES = 256 * 1024
LARGEST_RAW_BYTES = 4 * 1024 * 1024 + 1024
FIRST_PREVIOUS = "0" * 64
"""What the first segment of a tablet names as the one before it."""

_LONGEST_HEADER = 4096
_PACKING_LEVEL = 6


@dataclass(eq=False)
class BrokenSegment(BadInput):
    """A sealed segment is not what its tablet sealed."""

    segment: str
    reason: str
    happened = "The sealed segment {segment} is broken: {reason}."
    kept = "It is set aside as it is, and nothing was taken from it."
    do_next = "Get a good copy of it from the tablet that sealed it or from any other holder."


class Header(BaseModel):
    """What a segment says of itself before its entries; `sig` is over all the rest."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    lastrow: Literal[1] = FORMAT
    tablet: TabletId
    scope: Annotated[str, Field(pattern="^[a-z0-9-]{1,12}$")] = SCOPE
    seq: SegmentNumber
    prev: Sha256
    n: Annotated[int, Field(ge=1, le=MOST_ENTRIES)]
    raw: Annotated[int, Field(ge=1, le=LARGEST_RAW_BYTES)]
    sha: Sha256
    sig: str

    def digest(self) -> bytes:
        """Give the SHA-256 that the tablet signs."""
        return digest_of(self.model_dump(mode="json", exclude={"sig"}))

    def signed(self, key: SigningKey) -> "Header":
        """Give the header with the tablet's signature."""
        return self.model_copy(update={"sig": key.sign(PURPOSE, self.digest())})

    def is_signed_by(self, public_key: str) -> bool:
        """Tell whether the tablet with this key sealed it."""
        return is_signature(public_key, self.sig, PURPOSE, self.digest())


@dataclass(frozen=True)
class Segment:
    """A sealed file, its name, and the lines in it."""

    name: str
    header: Header
    lines: tuple[bytes, ...]
    content: bytes
    read_before: tuple[Label, ...] = field(default=(), repr=False)
    """The labels of its entries, where another process has read them."""

    @property
    def sha256(self) -> str:
        """The hash that the next segment names as `prev`."""
        return hashlib.sha256(self.content).hexdigest()

    @cached_property
    def entries(self) -> tuple[Entry, ...]:
        """The entries in it, read when first asked for.

        Raises
        ------
        BrokenSegment
            A line in it is no entry.
        """
        try:
            return tuple(
                read_entry(line, source=f"entry {number}")
                for number, line in enumerate(self.lines, start=1)
            )
        except Unreadable as error:
            reason = f"{error.source}: at {error.path}, {error.reason}"
            raise BrokenSegment(self.name, reason) from error

    @cached_property
    def labels(self) -> tuple[Label, ...]:
        """The labels of the entries in it.

        Raises
        ------
        BrokenSegment
            A line in it is no entry.
        """
        return self.read_before or tuple(map(label_of, self.entries))


def tablet_id(public_key: str) -> str:
    """Give a tablet's id: the first 80 bits of its public key's SHA-256, in base 32."""
    digest = hashlib.sha256(bytes.fromhex(public_key)).digest()
    return base64.b32encode(digest[:10]).decode("ascii").lower()


def segment_name(seq: int, content: bytes) -> str:
    """Give a segment's file name, e.g. `00000012-8f14e45fceea167a.seg`."""
    return f"{seq:08d}-{hashlib.sha256(content).hexdigest()[:16]}.seg"


def how_many_fit(sizes: Sequence[int]) -> int:
    """Tell how many of the waiting lines go into one segment, at least one."""
    total = 0
    for count, size in enumerate(sizes[:MOST_ENTRIES]):
        total += size + 1
        if count and total > USUAL_RAW_BYTES:
            return count
    return min(len(sizes), MOST_ENTRIES)


def seal(lines: Sequence[bytes], *, key: SigningKey, seq: int, prev: str) -> Segment:
    """Seal lines into the tablet's next segment.

    Parameters
    ----------
    lines : sequence of bytes
        Lines of entries as they were written, 1 to 200.
    key : SigningKey
        The tablet's key.
    seq : int
        The number of this segment, from 1.
    prev : str
        `sha256` of the segment before, or `FIRST_PREVIOUS`.
    """
    raw = b"\n".join(lines)
    if not 0 < len(lines) <= MOST_ENTRIES or len(raw) > LARGEST_RAW_BYTES:
        raise ValueError(f"{len(lines)} entries of {len(raw)} bytes make no segment")
    packed = gzip.compress(raw, _PACKING_LEVEL, mtime=0)
    header = Header(
        tablet=tablet_id(key.public_key),
        seq=seq,
        prev=prev,
        n=len(lines),
        raw=len(raw),
        sha=hashlib.sha256(packed).hexdigest(),
        sig="",
    ).signed(key)
    content = canonical_bytes(header.model_dump(mode="json")) + b"\n" + packed
    return Segment(segment_name(seq, content), header, tuple(lines), content)


def open_segment(name: str, content: bytes, *, public_key: str) -> Segment:
    """Check a segment against its name and its tablet's key, and give the lines in it.

    Raises
    ------
    BrokenSegment
        Names the first thing that is wrong: name, header, key, signature, packing, size,
        count, or a line that is no entry.
    """
    head, newline, packed = content.partition(b"\n")
    if not newline or len(head) > _LONGEST_HEADER:
        raise BrokenSegment(name, "it has no header line")
    header = _header(name, head)
    if name != segment_name(header.seq, content):
        raise BrokenSegment(name, "its bytes do not fit its name")
    if header.tablet != tablet_id(public_key):
        raise BrokenSegment(name, f"tablet {header.tablet} has another key")
    if not header.is_signed_by(public_key):
        raise BrokenSegment(name, "the signature is not the tablet's")
    if hashlib.sha256(packed).hexdigest() != header.sha:
        raise BrokenSegment(name, "the packed entries are not those that were signed")
    lines = tuple(_unpacked(name, packed, header.raw).split(b"\n"))
    if len(lines) != header.n:
        raise BrokenSegment(name, f"it holds {len(lines)} entries, not {header.n}")
    return Segment(name, header, lines, content)


def lines_of(content: bytes) -> tuple[bytes, ...]:
    """Give the lines of a segment that was verified before and kept since."""
    _, _, packed = content.partition(b"\n")
    return tuple(gzip.decompress(packed).split(b"\n"))


def check_chain(segments: Sequence[Segment]) -> None:
    """Check that segments of one tablet follow each other from the first, with no hole.

    Raises
    ------
    BrokenSegment
        Names the first segment that does not follow the one before it.
    """
    previous = FIRST_PREVIOUS
    for number, segment in enumerate(segments, start=1):
        if segment.header.seq != number:
            raise BrokenSegment(segment.name, f"number {number} is missing before it")
        if segment.header.prev != previous:
            raise BrokenSegment(segment.name, "it does not follow the segment before it")
        previous = segment.sha256


def _header(name: str, head: bytes) -> Header:
    try:
        return Header.model_validate(parse_json(head, source=name))
    except Unreadable as error:
        raise BrokenSegment(name, "its header is no JSON") from error
    except ValidationError as error:
        first = error.errors(include_input=False)[0]
        field = ".".join(map(str, first["loc"])) or "all of it"
        raise BrokenSegment(name, f"its header says nonsense in {field}") from error


def _unpacked(name: str, packed: bytes, raw_size: int) -> bytes:
    """Unpack with a bound: a few bytes of gzip can ask for gigabytes."""
    unpacking = zlib.decompressobj(wbits=31)
    try:
        raw = unpacking.decompress(packed, raw_size + 1)
    except zlib.error as error:
        raise BrokenSegment(name, "its packed entries can't be unpacked") from error
    if len(raw) != raw_size or not unpacking.eof or unpacking.unused_data:
        raise BrokenSegment(name, f"it does not unpack to {raw_size} bytes")
    return raw
