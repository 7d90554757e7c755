"""What a tablet states by itself, with nobody signed in: receipts, and what it met in a share."""

from collections.abc import Callable, Iterator
from datetime import datetime
from typing import Final

from sqlalchemy import Connection, bindparam, select

from fieldapp.store.ledger import latest_clock
from fieldapp.store.tables import EntryRow
from schemas.entry import Entry, Stated, new_entry, read_again
from schemas.logical_clock import LogicalClock, LogicalTime
from schemas.part import Part
from schemas.uuid7 import RANDOM_BYTES, uuid7

SCHEMA: Final = 1
_ZONE: Final = "UTC"
_OF_KIND = (
    select(EntryRow.sequence, EntryRow.revision, EntryRow.line, EntryRow.origin)
    .where(EntryRow.kind == bindparam("kind"), EntryRow.counts)
    .order_by(EntryRow.sequence)
)


def moments(connection: Connection, tablet: str, now: datetime) -> Iterator[Stated]:
    """Yield who states something and when, for one entry of a tablet after the other."""
    wall_ms = int(now.timestamp() * 1000)
    clock = LogicalClock(latest_clock(connection, wall_ms) or LogicalTime(0))
    while True:
        clock = clock.tick(wall_ms)
        yield Stated(tablet, now, _ZONE, clock.latest)


def own_word(kind: str, body: Part, stated: Stated, random_bytes: Callable[[int], bytes]) -> Entry:
    """Write an entry about a new thing, without keeping it."""
    wall_ms = int(stated.made_at.timestamp() * 1000)
    thing_id = str(uuid7(wall_ms, random_bytes(RANDOM_BYTES)))
    said = body.model_dump(mode="json", exclude_defaults=True)
    return new_entry(kind, SCHEMA, thing_id, said, stated)


def words_of(connection: Connection, kind: str) -> Iterator[tuple[str, Entry]]:
    """Yield what tablets say that counts here, oldest first, with the tablet in whose row it came.

    Raises
    ------
    Unreadable
        The bytes of one of them have changed.
    """
    for it in connection.execute(_OF_KIND, {"kind": kind}):
        entry = read_again(it.line, revision=it.revision, source=f"entry {it.sequence}")
        yield it.origin or entry.author, entry
