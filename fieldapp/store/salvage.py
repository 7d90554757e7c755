"""What can still be read in a damaged database, and how to go on with it.

Every row that is taken over proves itself: an entry by its revision, a draft and a touch by
their check sum, a key by its form. The tablet's own key is not taken over: the new row of
segments starts at 1 again, which must not look like the old one retold. What others sealed is
had from the share again; their entries stay what they were until then.
"""

import zlib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from fieldapp.store.pages import Column, Row, rows_in
from schemas.canonical import Unreadable, revision_of
from schemas.entry import Entry, read_entry
from schemas.wrapped_key import WrappedKey, read_wrapped_key


@dataclass(frozen=True)
class SavedDraft:
    """An open draft with the touches that could be read, in their order."""

    draft_id: str
    about: bytes
    touches: tuple[bytes, ...]


@dataclass(frozen=True)
class Saved:
    """What could be read. `missing` counts the entries that are known to have been there."""

    entries: tuple[Entry, ...]
    missing: int
    drafts: tuple[SavedDraft, ...]
    keys: tuple[WrappedKey, ...]
    received: Mapping[str, "Received"] = field(default_factory=dict)
    """By revision: what was not stated here, and must not be passed on as if it were."""


@dataclass(frozen=True)
class Received:
    """Where an entry came from, and whether it counted."""

    origin: str
    counts: bool


@dataclass
class _Found:
    lines: dict[int, bytes] = field(default_factory=dict)
    received: dict[str, Received] = field(default_factory=dict)
    highest: int = 0
    drafts: dict[int, tuple[str, bytes, bool]] = field(default_factory=dict)
    touches: dict[tuple[int, int], bytes] = field(default_factory=dict)
    keys: dict[str, bytes] = field(default_factory=dict)


def readable_in(content: bytes) -> Saved:
    """Read what can be read in the bytes of a database file, damaged or not."""
    found = _Found()
    for row in rows_in(content):
        _sort_in(found, row)
    entries = tuple(_entries(found))
    return Saved(
        entries,
        found.highest - len(entries),
        tuple(_drafts(found)),
        tuple(_keys(found.keys)),
        {
            it.revision: found.received[it.revision]
            for it in entries
            if it.revision in found.received
        },
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


def _entries(found: _Found) -> Iterator[Entry]:
    for number, line in sorted(found.lines.items()):
        try:
            yield read_entry(line, source=f"entry {number}")
        except Unreadable:
            continue


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
