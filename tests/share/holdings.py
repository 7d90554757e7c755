"""The model of what a tablet holds: lists, and no disk."""

import hashlib
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from copy import copy
from dataclasses import asdict, replace
from datetime import timedelta
from itertools import count
from typing import cast

from schemas.bodies.bad_file import BadFile
from schemas.bodies.receipt import MOST_HELD, Receipt
from schemas.canonical import JsonValue, canonical_bytes
from schemas.entry import Entry, Stated, corrected, new_entry, read_entry
from schemas.signatures import SigningKey
from schemas.uuid7 import uuid7
from sync.belief import segment_counts
from sync.holdings import Held, Holdings, Look, MetBad
from sync.names import SegmentName, TrustName
from sync.segment import (
    FIRST_PREVIOUS,
    MOST_ENTRIES,
    Segment,
    open_segment,
    seal,
    tablet_id,
)
from sync.tablet_identity import TabletIdentity
from sync.trust import Trust
from tests.made import STARTED_AT, of_a_newer_version
from tests.share.model_clock import ModelClock

RECEIPT = "receipt"
BAD_FILE = "bad_file"
CLOCK_NOTE = "clock_note"
"""Said on a disk only: the model doesn't look at its own clock."""
_numbers = count(1)

Numbers = Iterator[int]


class ListHoldings(Holdings):
    """What a tablet holds, in memory.

    A tablet that was killed holds what each call that had returned left: these objects
    themselves. What it shows is derived from its segments anew whenever they change.

    Parameters
    ----------
    seed : int
        Which tablet it is; its first key follows from it.
    trust : Trust
        The share that it was paired with.
    numbers : iterator of int
        Gives each entry its number; copies of one tablet draw from the same.
    """

    def __init__(self, seed: int, trust: Trust, numbers: Numbers = _numbers) -> None:
        self._seed = seed
        self._numbers = numbers
        self._keys = [SigningKey(seed.to_bytes(32, "big"))]
        self._own = [tablet_id(self._keys[0].public_key)]
        self._waiting: list[Entry] = []
        self._segments: dict[SegmentName, Segment] = {}
        self._read: dict[SegmentName, tuple[Entry, ...]] = {}
        self._identities: dict[str, TabletIdentity] = {}
        self._trust = trust
        self._records: list[tuple[TrustName, bytes]] = []
        self._stated: dict[str, Entry] = {}
        self._published: dict[SegmentName, float] = {}
        self._bad: dict[str, MetBad] = {}
        self._looks: dict[str, Look] = {}
        self._rows: dict[str, tuple[Held, ...]] | None = None
        self._acknowledged: frozenset[SegmentName] | None = None
        self.now_s: Callable[[], float] = lambda: 0.0
        self._clock = ModelClock()
        self.keep_identity(TabletIdentity.of_key(self._keys[0]))

    def copied(self) -> "ListHoldings":
        """Give a copy, as an image of the tablet's disk is one."""
        other = copy(self)
        other._clock = self._clock.copied()
        for name, value in vars(self).items():
            if isinstance(value, list | dict | set):
                setattr(other, name, value.copy())
        return other

    def brought_back(self) -> "ListHoldings":
        """Give what comes back from a backup that was made now: a copy with a key of its own."""
        other = self.copied()
        other.begin_anew()
        return other

    def state_something(
        self,
        kind: str = "event",
        body: Mapping[str, JsonValue] | None = None,
        newer: Mapping[str, JsonValue] | None = None,
    ) -> Entry:
        """State an entry here, perhaps with fields that only a newer version knows."""
        number, stated = self._stated_now()
        thing = str(uuid7(1_772_343_060_000 + number, number.to_bytes(10, "big")))
        made = new_entry(kind, 1, thing, body or self._said(number), stated)
        if newer:
            made = of_a_newer_version(made, newer)
        self._waiting.append(made)
        return made

    def _said(self, number: int) -> Mapping[str, JsonValue]:
        """Give what is said where it doesn't matter what."""
        return {"number": number}

    def revise(self, entry: Entry, *settled: Entry) -> Entry:
        """State a revision of an entry, which settles others of the same thing."""
        number, stated = self._stated_now()
        self._waiting.append(corrected(entry, {"number": number}, stated, settles=settled))
        return self._waiting[-1]

    def _stated_now(self) -> tuple[int, Stated]:
        at = STARTED_AT + timedelta(seconds=self.now_s())
        wall_ms = int(at.timestamp() * 1000)
        clock = self._clock.tick(wall_ms, self._shows)
        return next(self._numbers), Stated("p-rowan", at, "UTC", clock)

    @property
    def entries(self) -> list[Entry]:
        """The entries that count here: believed ones, and whatever was stated here itself."""
        kept = (it for name in self._segments if self._shows(name) for it in self._read[name])
        stated = (self._stated[it] for it in self._trust.lines)
        return list(dict.fromkeys((*kept, *stated, *self._waiting)))

    def believed(self) -> set[bytes]:
        """Give the lines that count wherever these segments are held."""
        return {
            it.line for name in self._segments if self._believes(name) for it in self._read[name]
        }

    def lines(self) -> set[bytes]:
        """Give every line that is held here, whether it counts or not."""
        return {it.line for read in (*self._read.values(), self._waiting) for it in read}

    def tablet_key(self) -> SigningKey:
        return self._keys[-1]

    def seal(self) -> bool:
        waited = bool(self._waiting)
        while self._waiting:
            self._seal_next(self._waiting[:MOST_ENTRIES])
            self._waiting = self._waiting[MOST_ENTRIES:]
        return waited

    def _seal_next(self, entries: Sequence[Entry]) -> None:
        key, tablet = self.tablet_key(), self._own[-1]
        row = self.rows().get(tablet, ())
        last = max(row, key=lambda it: it.name.seq) if row else None
        prev = self._segments[last.name].sha256 if last else FIRST_PREVIOUS
        seq = last.name.seq + 1 if last else 1
        segment = seal([it.line for it in entries], key=key, seq=seq, prev=prev)
        name = SegmentName.of_file(tablet, segment.name)
        assert name is not None
        self._keep(segment, name)

    def _keep(self, segment: Segment, name: SegmentName) -> None:
        self._read[name] = segment.entries
        self._clock.hear(name, segment.entries)
        self._segments[name] = segment
        self._rows = self._acknowledged = None

    def rows(self) -> Mapping[str, tuple[Held, ...]]:
        if self._rows is None:
            found: dict[str, list[Held]] = {}
            for name in sorted(self._segments):
                segment = self._segments[name]
                held = Held(name, segment.header.prev[:16], len(segment.content))
                found.setdefault(name.tablet, []).append(held)
            self._rows = {tablet: tuple(row) for tablet, row in found.items()}
        return self._rows

    def own_tablets(self) -> tuple[str, ...]:
        return tuple(self._own)

    def content(self, name: SegmentName) -> bytes | None:
        found = self._segments.get(name)
        return found.content if found else None

    def take_in(self, segment: Segment, name: SegmentName) -> None:
        self._keep(segment, name)
        self.note_good(name.path)

    def identity(self, tablet: str) -> TabletIdentity | None:
        return self._identities.get(tablet)

    def keep_identity(self, identity: TabletIdentity) -> None:
        self._identities[identity.tablet] = identity
        self._acknowledged = None

    def trust(self) -> Trust:
        return self._trust

    def trust_records(self) -> Sequence[tuple[TrustName, bytes]]:
        return tuple(self._records)

    def take_trust(self, name: TrustName, content: bytes) -> None:
        self._trust, lines = self._trust.with_record(name.path.rpartition("/")[2], content)
        self._stated |= {it.decode(): read_entry(it, source=name.path) for it in lines}
        self._records.append((name, content))
        self._acknowledged = None

    def published(self) -> Mapping[SegmentName, float]:
        return dict(self._published)

    def set_published(self, names: Iterable[SegmentName], at_s: float | None) -> None:
        for name in names:
            self._published.pop(name, None)
            if at_s is not None:
                self._published[name] = at_s

    def acknowledged(self) -> frozenset[SegmentName]:
        if self._acknowledged is None:
            said = (
                held
                for name, entries in self._read.items()
                if self._believes(name)
                for entry in entries
                if entry.kind == RECEIPT
                for held in held_by(entry)
                if held.tablet != name.tablet
            )
            self._acknowledged = frozenset(said) | {
                name
                for name, entries in self._read.items()
                if all(entry.kind == RECEIPT for entry in entries)
            }
        return self._acknowledged

    def acknowledge(self, names: Sequence[SegmentName]) -> None:
        for start in range(0, len(names), MOST_HELD):
            holds = [asdict(name) for name in names[start : start + MOST_HELD]]
            self.state_something(RECEIPT, {"holds": cast("JsonValue", holds)})

    def bad_files(self) -> Mapping[str, MetBad]:
        return dict(self._bad)

    def note_bad(self, paths: Iterable[str], reason: str, at_s: float) -> None:
        for path in paths:
            known = self._bad.get(path) or MetBad(path, reason, 0, at_s)
            self._bad[path] = replace(known, reason=reason, tries=known.tries + 1)

    def note_good(self, path: str) -> None:
        self._bad.pop(path, None)

    def said_bad(self) -> Sequence[tuple[str, Entry]]:
        own = self._own[-1]
        sealed = ((name, entry) for name, entries in self._read.items() for entry in entries)
        said = [(name, entry) for name, entry in sealed if entry.kind == BAD_FILE]
        heard = [(name.tablet, entry) for name, entry in said if self._shows(name)]
        return [*heard, *((own, it) for it in self._waiting if it.kind == BAD_FILE)]

    def say_bad(self, new: Sequence[BadFile], good_again: Sequence[Entry]) -> None:
        for body in new:
            self.state_something(BAD_FILE, body.model_dump(mode="json", exclude_defaults=True))
        for entry in good_again:
            _, stated = self._stated_now()
            self._waiting.append(corrected(entry, {"good_again": True}, stated))

    def looks(self) -> Mapping[str, Look]:
        return dict(self._looks)

    def note_looks(self, looks: Mapping[str, Look]) -> None:
        self._looks |= looks

    def begin_anew(self) -> None:
        before = self.tablet_key()
        chance = canonical_bytes({"seed": self._seed, "number": next(self._numbers)})
        self._keys.append(SigningKey(hashlib.sha256(chance).digest()))
        self._own.append(tablet_id(self.tablet_key().public_key))
        self.keep_identity(TabletIdentity.of_key(self.tablet_key(), before=before))

    def _shows(self, name: SegmentName) -> bool:
        return name.tablet in self._own or self._believes(name)

    def _believes(self, name: SegmentName) -> bool:
        row = self.rows().get(name.tablet, ())
        return segment_counts(self._trust, self.identity, name, row)


def held_by(receipt: Entry) -> tuple[SegmentName, ...]:
    """Give the segments that a receipt says are held."""
    return tuple(
        SegmentName(it.tablet, it.seq, it.hash16)
        for it in Receipt.model_validate(receipt.body).holds
    )


def opened_again(holdings: ListHoldings, name: SegmentName) -> Segment:
    """Open a held segment as a stranger would."""
    content, identity = holdings.content(name), holdings.identity(name.tablet)
    assert content is not None
    assert identity is not None
    return open_segment(name.file, content, public_key=identity.public_key)
