"""Honest stand-ins: each passes the same tests as the real thing it stands for."""

from collections.abc import Iterable
from datetime import datetime

from schemas.entry import Entry
from schemas.logical_clock import LogicalTime
from sync.ledger import Kept, Ledger


class ListLedger(Ledger):
    """The model: a ledger that is a list."""

    def __init__(self) -> None:
        self.entries: list[Entry] = []

    def add(self, entries: Iterable[Entry]) -> None:
        for entry in entries:
            if entry not in self.entries:
                self.entries.append(entry)

    def all(self) -> Iterable[Entry]:
        return list(self.entries)

    def after(self, sequence: int) -> Iterable[Kept]:
        return [Kept(place, entry) for place, entry in enumerate(self.entries, 1)][sequence:]

    def newest(self) -> int:
        return len(self.entries)

    def of_kind(self, kind: str) -> Iterable[Entry]:
        return [entry for entry in self.entries if entry.kind == kind]

    def of_thing(self, thing_id: str) -> tuple[Entry, ...]:
        return tuple(entry for entry in self.entries if entry.id == thing_id)

    def heads(self, kind: str) -> tuple[Entry, ...]:
        return tuple(entry for entry in self.of_kind(kind) if not self._is_superseded(entry))

    def get(self, revision: str) -> Entry | None:
        return next((entry for entry in self.entries if entry.revision == revision), None)

    def last_clock(self) -> LogicalTime | None:
        return self.entries[-1].clock if self.entries else None

    def newest_made_at(self) -> datetime | None:
        return max((entry.made_at for entry in self.entries), default=None)

    def _is_superseded(self, entry: Entry) -> bool:
        return any(
            (later.id, later.kind) == (entry.id, entry.kind) and entry.revision in later.parents
            for later in self.entries
        )
