"""What tablets say about bad files of the share, as entries."""

from collections.abc import Callable, Iterator, Sequence
from datetime import datetime

from sqlalchemy import Connection, select

from fieldapp.store.own_words import moments, own_word
from fieldapp.store.tables import EntryRow
from schemas.bodies.bad_file import BadFile
from schemas.entry import Entry, corrected, read_again

BAD_FILE = "bad_file"


def bad_words(
    connection: Connection,
    new: Sequence[BadFile],
    good_again: Sequence[Entry],
    *,
    tablet: str,
    now: datetime,
    random_bytes: Callable[[int], bytes],
) -> Sequence[Entry]:
    """Write the entries in which a tablet reports files, or ends reports, without keeping them."""
    at = moments(connection, tablet, now)
    told = [own_word(BAD_FILE, body, next(at), random_bytes) for body in new]
    return told + [corrected(it, {"good_again": True}, next(at)) for it in good_again]


def said_bad(connection: Connection) -> Iterator[tuple[str, Entry]]:
    """Yield what counts here of it, oldest first, with the tablet in whose row it came.

    Raises
    ------
    Unreadable
        The bytes of one of them have changed.
    """
    row = EntryRow
    wanted = select(row.sequence, row.revision, row.line, row.origin).where(
        row.kind == BAD_FILE, row.counts
    )
    for it in connection.execute(wanted.order_by(row.sequence)):
        entry = read_again(it.line, revision=it.revision, source=f"entry {it.sequence}")
        yield it.origin or entry.author, entry
