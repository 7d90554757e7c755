"""What can still be read in a damaged database.

Every row that is taken over proves itself: an entry by its revision, a segment by its hash, a
certificate and a record of trust by their signatures, a draft and a touch by their check sum,
a key by its form. What this tablet sealed itself is opened: its entries stand there once more.
"""

import re
import zlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from fieldapp.store.pages import Column, Row, rows_in
from fieldapp.store.pairing import Pairing
from schemas.canonical import Unreadable, revision_of
from schemas.entry import Entry, read_entry
from schemas.signatures import SEED_BYTES, SigningKey
from schemas.wrapped_key import WrappedKey, read_wrapped_key
from sync.names import SegmentName, TrustName, is_tablet, short_hash
from sync.segment import lines_of, tablet_id
from sync.tablet_identity import TabletIdentity, read_tablet_identity

_TABLET = "tablet"
_SHARE = re.compile(r"[0-9a-f-]{36}")
_ROOT_KEYS = re.compile(r"[0-9a-f]{64}( [0-9a-f]{64})*")


@dataclass(frozen=True)
class SavedDraft:
    """An open draft with the touches that could be read, in their order."""

    draft_id: str
    about: bytes
    touches: tuple[bytes, ...]


@dataclass(frozen=True)
class Received:
    """Where an entry came from, and whether it counted."""

    origin: str
    counts: bool


@dataclass(frozen=True)
class SavedShare:
    """What could be read of what a share brought."""

    pairing: Pairing | None = None
    records: tuple[tuple[TrustName, bytes], ...] = ()
    """Of the last pairing, by their number."""
    certificates: tuple[TabletIdentity, ...] = ()
    segments: tuple[tuple[SegmentName, bytes], ...] = ()
    own: tuple[str, ...] = ()
    """Ids that this tablet went by, as far as they are known."""


@dataclass(frozen=True)
class Saved:
    """What could be read. `highest` is the number of entries that are known to have been there."""

    entries: tuple[Entry, ...] = ()
    highest: int = 0
    drafts: tuple[SavedDraft, ...] = ()
    finished: frozenset[str] = frozenset()
    """Drafts that became entries, or nothing."""
    keys: tuple[WrappedKey, ...] = ()
    tablet: SigningKey | None = None
    received: Mapping[str, Received] = field(default_factory=dict)
    """By revision: what was not stated here, and must not be passed on as if it were."""
    share: SavedShare = field(default_factory=SavedShare)


@dataclass
class _Found:
    lines: dict[int, bytes] = field(default_factory=dict)
    received: dict[str, Received] = field(default_factory=dict)
    highest: int = 0
    drafts: dict[int, tuple[str, bytes, bool]] = field(default_factory=dict)
    touches: dict[tuple[int, int], bytes] = field(default_factory=dict)
    keys: dict[str, bytes] = field(default_factory=dict)
    sealed: dict[int, bytes] = field(default_factory=dict)
    held: dict[SegmentName, bytes] = field(default_factory=dict)
    certificates: dict[str, TabletIdentity] = field(default_factory=dict)
    former: dict[int, str] = field(default_factory=dict)
    pairings: dict[int, Pairing] = field(default_factory=dict)
    records: dict[tuple[int, int], tuple[TrustName, bytes]] = field(default_factory=dict)


def readable_in(content: bytes) -> Saved:
    """Read what can be read in the bytes of a database file, damaged or not."""
    found = _Found()
    for row in rows_in(content):
        for sort_in in (_sort_in, _sort_in_hashed, _sort_in_names):
            sort_in(found, row)
    entries = tuple(_entries(found))
    seed = found.keys.get(_TABLET, b"")
    tablet = SigningKey(seed) if len(seed) == SEED_BYTES else None
    return Saved(
        entries=entries,
        highest=found.highest,
        drafts=tuple(_drafts(found)),
        finished=frozenset(draft_id for draft_id, _, closed in found.drafts.values() if closed),
        keys=tuple(_keys(found.keys)),
        tablet=tablet,
        received={it: found.received[it] for it in _revisions(entries) & found.received.keys()},
        share=_share(found, tablet),
    )


def _sort_in(found: _Found, row: Row) -> None:
    match row:
        case Row(
            int(number), (None, str(revision), str(), str(), str(), str(), bytes(line), *rest)
        ):
            found.highest = max(found.highest, number)
            if revision_of(line) == revision:
                found.lines[number] = line
                _sort_in_origin(found, revision, rest)
        case Row(int(number), (None, str(draft_id), bytes(about), int(crc), int(closed))):
            if zlib.crc32(about) == crc:
                # An older copy of the row may lie about; closed is the newer one.
                was_closed = found.drafts.get(number, ("", b"", False))[2]
                found.drafts[number] = draft_id, about, bool(closed) or was_closed
        case Row(None, (int(draft), int(number), bytes(line), int(crc))):
            if zlib.crc32(line) == crc:
                found.touches[draft, number] = line
        case Row(int(), (str(owner), bytes(content))):
            found.keys[owner] = content
        case _:
            pass


def _sort_in_origin(found: _Found, revision: str, rest: Sequence[Column]) -> None:
    match rest:
        case [_, _, str(origin), counts]:
            found.received[revision] = Received(origin, counts=counts == 1)
        case _:
            pass


def _sort_in_hashed(found: _Found, row: Row) -> None:
    """Sort in what stands beside its hash: segments, this tablet's own too, and records."""
    match row:
        case Row(int(seq), (None, str(name), int(), int(), bytes(content), *_)):
            named = SegmentName.of_file("", name)
            if named is not None and short_hash(content) == named.hash16:
                found.sealed[seq] = content
        case Row(int(), (None, str(tablet), int(seq), str(hash16), str(), *_, bytes(content))):
            if short_hash(content) == hash16:
                found.held[SegmentName(tablet, seq, hash16)] = content
        case Row(int(), (int(pairing), int(number), str(hash16), bytes(content))):
            if short_hash(content) == hash16:
                found.records[pairing, number] = TrustName(number, hash16), content
        case _:
            pass


def _sort_in_names(found: _Found, row: Row) -> None:
    """Sort in who is known: certificates, former ids, and the shares that were paired with."""
    match row:
        case Row(None, (str(tablet), bytes(content))):
            identity = read_tablet_identity(tablet, content)
            if identity is not None:
                found.certificates[tablet] = identity
        case Row(int(number), (None, str(tablet), int())) if is_tablet(tablet):
            found.former[number] = tablet
        case Row(int(number), (None, str(store), str(keys))):
            if _SHARE.fullmatch(store) and _ROOT_KEYS.fullmatch(keys):
                found.pairings[number] = Pairing(store, tuple(keys.split()))
        case _:
            pass


def _share(found: _Found, tablet: SigningKey | None) -> SavedShare:
    last = max(found.pairings, default=0)
    present = (tablet_id(tablet.public_key),) if tablet else ()
    return SavedShare(
        pairing=found.pairings.get(last),
        records=tuple(it for at, it in sorted(found.records.items()) if at[0] == last),
        certificates=tuple(found.certificates.values()),
        segments=tuple(sorted(found.held.items())),
        own=(*(it for _, it in sorted(found.former.items())), *present),
    )


def _entries(found: _Found) -> Iterator[Entry]:
    """Give the entries in their order; last, those that can be read in a segment only."""
    rows = [(f"entry {number}", line) for number, line in sorted(found.lines.items())]
    sealed = [
        (f"segment {seq}", line)
        for seq, content in sorted(found.sealed.items())
        for line in lines_of(content)
    ]
    here: set[bytes] = set()
    for source, line in (*rows, *sealed):
        try:
            entry = read_entry(line, source=source)
        except Unreadable:
            continue
        if line not in here:
            here.add(line)
            yield entry


def _revisions(entries: Iterable[Entry]) -> set[str]:
    return {entry.revision for entry in entries}


def _drafts(found: _Found) -> Iterator[SavedDraft]:
    for number, (draft_id, about, closed) in sorted(found.drafts.items()):
        if not closed:
            touches = _in_order(found.touches, number)
            yield SavedDraft(draft_id, about, tuple(touches))


def _in_order(touches: dict[tuple[int, int], bytes], draft: int) -> Iterator[bytes]:
    """Give a draft's touches up to the first that is missing: later ones may build on it."""
    number = 1
    while (draft, number) in touches:
        yield touches[draft, number]
        number += 1


def _keys(kept: dict[str, bytes]) -> Iterable[WrappedKey]:
    for owner, content in sorted(kept.items()):
        try:
            key = read_wrapped_key(content, source=f"the key of {owner}")
        except Unreadable:
            continue
        if key.owner == owner:
            yield key
