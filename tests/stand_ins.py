"""Honest stand-ins: each passes the same tests as the real thing it stands for."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from schemas.entry import Entry
from schemas.logical_clock import LogicalTime
from sync.ledger import FOR_ALL, Kept, Ledger, LedgerState, Named, name_in


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

    def stated_by_site(self) -> frozenset[str] | None:
        return None

    def state(self) -> LedgerState:
        return LedgerState(len(self.entries))

    def of_kind(self, kind: str) -> Iterable[Entry]:
        return [entry for entry in self.entries if entry.kind == kind]

    def of_thing(self, thing_id: str) -> tuple[Entry, ...]:
        return tuple(entry for entry in self.entries if entry.id == thing_id)

    def naming(self, kind: str, named: Named, name: str | None) -> Iterable[Entry]:
        things = {it.id for it in self.of_kind(kind) if name_in(it.body, named) == name}
        return [entry for entry in self.of_kind(kind) if entry.id in things]

    def filed(self, kinds: Collection[str]) -> Mapping[str | None, str]:
        places: dict[str | None, set[Entry]] = {FOR_ALL: set()}
        for entry in self.entries:
            for heading in self._filed_under(entry, kinds):
                places.setdefault(heading, set()).add(entry)
        return {heading: _together(heading, entries) for heading, entries in places.items()}

    def _filed_under(self, entry: Entry, kinds: Collection[str]) -> Iterable[str | None]:
        heading = name_in(entry.body, "heading")
        if heading is None and entry.kind in kinds:
            yield FOR_ALL
        if len({name_in(it.body, "heading") for it in self.of_thing(entry.id)}) > 1:
            yield FOR_ALL
        if heading is not None:
            yield heading
        if entry.kind == "heading":
            yield entry.id
        elif heading is None:
            yield from self._headings_of_round(entry)

    def _headings_of_round(self, entry: Entry) -> Iterable[str]:
        its_round = name_in(entry.body, "round")
        for other in self.entries if its_round is not None else ():
            heading = name_in(other.body, "heading")
            if heading is not None and its_round in (other.id, name_in(other.body, "round")):
                yield heading

    def heads(self, kind: str) -> tuple[Entry, ...]:
        return tuple(entry for entry in self.of_kind(kind) if not self._is_superseded(entry))

    def get(self, revision: str) -> Entry | None:
        return next((entry for entry in self.entries if entry.revision == revision), None)

    def latest_clock(self, wall_ms: int) -> LogicalTime | None:  # noqa: ARG002 - all own
        return max((entry.clock for entry in self.entries), default=None)

    def newest_made_at(self) -> datetime | None:
        return max((entry.made_at for entry in self.entries), default=None)

    def _is_superseded(self, entry: Entry) -> bool:
        return any(
            (later.id, later.kind) == (entry.id, entry.kind) and entry.revision in later.parents
            for later in self.entries
        )


def _together(heading: str | None, entries: Iterable[Entry]) -> str:
    """Put those that name the heading, or are it, before those that name a round of it."""

    def order(entry: Entry) -> tuple[bool, str]:
        own = name_in(entry.body, "heading") == heading or entry.kind == "heading"
        return not own and heading is not FOR_ALL, entry.revision

    return "".join(entry.revision for entry in sorted(entries, key=order))


@dataclass(frozen=True)
class GivenPhotos:
    """A source of photos that gives these files, each time it is asked."""

    files: tuple[Path, ...]

    def photos(self) -> tuple[Path, ...]:
        return self.files
