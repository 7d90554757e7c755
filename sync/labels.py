"""What is kept beside an entry's line to find it by, read out of it once."""

from datetime import datetime
from typing import NamedTuple

from schemas.entry import Entry
from sync.ledger import name_in


class Label(NamedTuple):
    """The names that an entry goes by."""

    revision: str
    kind: str
    thing_id: str
    made_at: str
    """As `sortable_time` writes it."""
    clock: str
    heading: str | None
    round: str | None
    parents: tuple[str, ...]


def label_of(entry: Entry) -> Label:
    """Read an entry's label."""
    return Label(
        entry.revision,
        entry.kind,
        entry.id,
        sortable_time(entry.made_at),
        str(entry.clock),
        name_in(entry.body, "heading"),
        name_in(entry.body, "round"),
        entry.parents,
    )


def sortable_time(made_at: datetime) -> str:
    """Write a time so that texts sort as times do: always with six decimals."""
    return made_at.isoformat(timespec="microseconds")
