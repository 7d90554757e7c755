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


@dataclass(frozen=True, order=True)
class LedgerState:
    """One state of a ledger: whatever it answers is the same as long as this is."""

    newest: int
    """The place of what was taken in last; 0 in an empty ledger."""
    belief: int = 0
    """How often it changed which of the entries that were here count."""


@dataclass(frozen=True)
class Kept:
    """An entry and its place in one ledger; the place says nothing on another tablet."""

    sequence: int
    entry: Entry


LONGEST_NAME: Final = 200
"""Longer ones are nobody's: a heading or a round is named by its id."""


def name_in(body: Mapping[str, JsonValue], named: Named) -> str | None:
    """Give what a body names; what is no text that every database can look up is none."""
    name = body.get(named)
    if isinstance(name, str) and len(name) <= LONGEST_NAME and "\0" not in name:
        return name
    return None


class Ledger(Protocol):
    """Entries in the order in which they were taken in; nothing is changed or taken out.

    Everything that is given back is byte for byte what was taken in. What another tablet
    stated and nobody vouches for is given back by `all` and `after`, and by nothing else.
    """

    def add(self, entries: Iterable[Entry]) -> None:
        """Take in entries, durably and all or none; one that is here already is left alone."""

    def all(self) -> Iterable[Entry]:
        """Give every entry, oldest first."""

    def after(self, sequence: int) -> Iterable[Kept]:
        """Give what was taken in after a place, oldest first; from the start after 0."""

    def state(self) -> LedgerState:
        """Give the state in which the ledger is now."""

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

    def latest_clock(self, wall_ms: int) -> LogicalTime | None:
        """Give the latest logical time of what was stated here, and of what was heard.

        What was heard from further ahead is not followed (`farthest_followed`).
        """

    def stated_by_site(self) -> frozenset[str] | None:
        """Give the revisions that stand in the site's records of trust.

        None where this tablet belongs to no share: there are no such records then.
        """

    def newest_made_at(self) -> datetime | None:
        """Give the latest time at which any entry says it was made."""
