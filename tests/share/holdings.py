"""The model of what a tablet holds: lists, and no disk."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import count
from typing import cast

from schemas.canonical import canonical_bytes
from schemas.entry import Entry, Stated, new_entry
from schemas.logical_clock import LogicalTime
from schemas.signatures import SigningKey
from schemas.uuid7 import uuid7
from sync.belief import counts
from sync.holdings import BadFile, Held, Holdings
from sync.names import SegmentName, TrustName
from sync.segment import (
    FIRST_PREVIOUS,
    MOST_ENTRIES,
    Segment,
    entries_in,
    open_segment,
    seal,
    tablet_id,
)
from sync.tablet_identity import TabletIdentity
from sync.trust import Trust
from tests.made import STARTED_AT

_numbers = count(1)


class ListHoldings(Holdings):
    """What a tablet holds, in memory."""

    def __init__(self, seed: int, trust: Trust) -> None:
        self._seed = seed
        self._keys = [SigningKey(seed.to_bytes(32, "big"))]
        self.entries: list[Entry] = []
        self._waiting: list[Entry] = []
        self._segments: dict[SegmentName, Segment] = {}
        self._identities: dict[str, TabletIdentity] = {}
        self._trust = trust
        self._records: list[tuple[TrustName, bytes]] = []
        self._published: dict[SegmentName, float] = {}
        self._bad: dict[str, BadFile] = {}
        self.keep_identity(TabletIdentity.of_key(self._keys[0]))

    def copied(self) -> "ListHoldings":
        """Give a copy, as an image of the tablet's disk is one."""
        other = ListHoldings(self._seed, self._trust)
        for name, value in vars(self).items():
            copied = value.copy() if isinstance(value, list | dict) else value
            setattr(other, name, copied)
        return other

    def state_something(
        self, kind: str = "event", body: Mapping[str, object] | None = None
    ) -> Entry:
        """State an entry here."""
        number = next(_numbers)
        made_at = STARTED_AT
        stated = Stated("p-rowan", made_at, "UTC", LogicalTime(number))
        thing = str(uuid7(1_772_343_060_000 + number, number.to_bytes(10, "big")))
        made = new_entry(kind, 1, thing, dict(body or {"number": number}), stated)  # type: ignore[arg-type]
        self._waiting.append(made)
        self.entries.append(made)
        return made

    def tablet_key(self) -> SigningKey:
        return self._keys[-1]

    def seal(self) -> None:
        while self._waiting:
            self._seal_next(self._waiting[:MOST_ENTRIES])
            self._waiting = self._waiting[MOST_ENTRIES:]

    def _seal_next(self, entries: Sequence[Entry]) -> None:
        key, tablet = self.tablet_key(), self.own_tablets()[-1]
        row = self.rows().get(tablet, ())
        last = max(row, key=lambda it: it.name.seq) if row else None
        prev = self._segments[last.name].sha256 if last else FIRST_PREVIOUS
        seq = last.name.seq + 1 if last else 1
        segment = seal([it.line for it in entries], key=key, seq=seq, prev=prev)
        name = SegmentName.of_file(tablet, segment.name)
        assert name is not None
        self._segments[name] = segment

    def rows(self) -> Mapping[str, tuple[Held, ...]]:
        found: dict[str, list[Held]] = {}
        for name in sorted(self._segments):
            segment = self._segments[name]
            held = Held(name, segment.header.prev[:16], len(segment.content))
            found.setdefault(name.tablet, []).append(held)
        return {tablet: tuple(row) for tablet, row in found.items()}

    def own_tablets(self) -> tuple[str, ...]:
        return tuple(tablet_id(key.public_key) for key in self._keys)

    def content(self, name: SegmentName) -> bytes | None:
        found = self._segments.get(name)
        return found.content if found else None

    def take_in(self, segment: Segment, name: SegmentName) -> None:
        self._segments[name] = segment
        self._count()

    def identity(self, tablet: str) -> TabletIdentity | None:
        return self._identities.get(tablet)

    def keep_identity(self, identity: TabletIdentity) -> None:
        self._identities[identity.tablet] = identity

    def trust(self) -> Trust:
        return self._trust

    def trust_records(self) -> Sequence[tuple[TrustName, bytes]]:
        return tuple(self._records)

    def take_trust(self, name: TrustName, content: bytes) -> None:
        self._trust, _ = self._trust.with_record(name.path.rpartition("/")[2], content)
        self._records.append((name, content))
        self._count()

    def published(self) -> Mapping[SegmentName, float]:
        return dict(self._published)

    def set_published(self, names: Iterable[SegmentName], at_s: float | None) -> None:
        for name in names:
            self._published.pop(name, None)
            if at_s is not None:
                self._published[name] = at_s

    def acknowledged(self) -> frozenset[SegmentName]:
        said = {
            SegmentName(tablet, seq, hash16)
            for name, segment in self._segments.items()
            if self._believes(name)
            for entry in entries_in(segment)
            if entry.kind == "receipt"
            for tablet, seq, hash16 in cast("list[tuple[str, int, str]]", entry.body["holds"])
            if tablet != name.tablet
        }
        return frozenset(said) | {
            name
            for name, segment in self._segments.items()
            if all(entry.kind == "receipt" for entry in entries_in(segment))
        }

    def acknowledge(self, names: Sequence[SegmentName]) -> None:
        self.state_something(
            "receipt", {"holds": [[it.tablet, it.seq, it.hash16] for it in names]}
        )

    def bad_files(self) -> Mapping[str, BadFile]:
        return dict(self._bad)

    def note_bad(self, path: str, reason: str, at_s: float) -> None:
        known = self._bad.get(path) or BadFile(path, reason, 0, at_s)
        self._bad[path] = replace(known, reason=reason, tries=known.tries + 1)

    def note_good(self, path: str) -> None:
        self._bad.pop(path, None)

    def begin_anew(self) -> None:
        before = self.tablet_key()
        seed = canonical_bytes({"seed": self._seed, "keys": len(self._keys), "n": next(_numbers)})
        self._keys.append(SigningKey((seed * 32)[:32]))
        self.keep_identity(TabletIdentity.of_key(self.tablet_key(), before=before))

    def _believes(self, name: SegmentName) -> bool:
        return counts(self._trust, self.identity, name.tablet, name.seq)

    def _count(self) -> None:
        """Let the entries count whose segments are believed; each once, in no order."""
        known = set(self.entries)
        for name, segment in self._segments.items():
            if self._believes(name) or name.tablet in self.own_tablets():
                self.entries += [it for it in entries_in(segment) if it not in known]
                known.update(entries_in(segment))


def opened_again(holdings: ListHoldings, name: SegmentName) -> Segment:
    """Open a held segment as a stranger would."""
    content, identity = holdings.content(name), holdings.identity(name.tablet)
    assert content is not None
    assert identity is not None
    return open_segment(name.file, content, public_key=identity.public_key)
