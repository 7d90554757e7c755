"""What sharing and the jobs of the day need from whatever keeps the entries."""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Final, Literal, Protocol

from schemas.canonical import JsonValue
from schemas.entry import Entry
from schemas.logical_clock import LogicalTime

Named = Literal["heading", "round"]
"""What an entry's body may name, and is found by."""
FOR_ALL: Final = None
"""Where in `filed` stands what concerns every heading."""


@dataclass(frozen=True)
class Kept:
    """An entry and its place in one ledger; the place says nothing on another tablet."""

    sequence: int
    entry: Entry


def name_in(body: Mapping[str, JsonValue], named: Named) -> str | None:
    """Give what a body names; a name that is no text is none."""
    name = body.get(named)
    return name if isinstance(name, str) else None


class Ledger(Protocol):
    """Entries in the order in which they were taken in; nothing is changed or taken out.

    Everything that is given back is byte for byte what was taken in.
    """

    def add(self, entries: Iterable[Entry]) -> None:
        """Take in entries, durably and all or none; one that is here already is left alone."""

    def all(self) -> Iterable[Entry]:
        """Give every entry, oldest first."""

    def after(self, sequence: int) -> Iterable[Kept]:
        """Give what was taken in after a place, oldest first; from the start after 0."""

    def newest(self) -> int:
        """Give the place of what was taken in last; 0 in an empty ledger."""

    def of_kind(self, kind: str) -> Iterable[Entry]:
        """Give the entries of one kind, superseded ones too, oldest first."""

    def of_thing(self, thing_id: str) -> tuple[Entry, ...]:
        """Give all revisions of one thing, oldest first."""

    def naming(self, kind: str, named: Named, name: str | None) -> Iterable[Entry]:
        """Give all revisions of the things of a kind of which one names this, oldest first.

        A name that is no text is none; None asks for those.
        """

    def filed(self, kinds: Collection[str]) -> Mapping[str | None, str]:
        """Give the revisions filed under each heading, the same text for the same entries.

        An entry is filed under the heading that it names, or that it is; one that names none
        but a round, under every heading of that round. Under `FOR_ALL` stand the entries of
        these kinds that name no heading, and every revision of a thing that names now one
        heading, now another or none.
        """

    def heads(self, kind: str) -> tuple[Entry, ...]:
        """Give the current revisions of all things of a kind, oldest first.

        Current is what no later revision of the same thing names as its parent. Several
        heads of one thing are a conflict, which a person settles.
        """

    def get(self, revision: str) -> Entry | None:
        """Give one entry by its revision, or None when it is not here."""

    def last_clock(self) -> LogicalTime | None:
        """Give the logical time of the entry that was taken in last."""

    def newest_made_at(self) -> datetime | None:
        """Give the latest time at which any entry says it was made."""
