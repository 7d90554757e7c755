"""What was stated here and never sent, read without opening the store.

So that it can be handed on as a file even where a newer version of the program has used the
database: of its tables only those are asked that no version changes, and in doubt an entry
counts as not sent.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, suppress
from pathlib import Path

from fieldapp.store.troubles import DatabaseDamaged, told
from schemas.canonical import revision_of
from sync.segment import lines_of

_LINES = "SELECT revision, line FROM entry WHERE {stated_here} ORDER BY sequence"
_STATED_HERE = "origin IS NULL"
_SENT = (
    "SELECT content FROM segment JOIN published USING (seq)"
    " WHERE published.hash16 = substr(segment.name, 10, 16)",
    "SELECT content FROM share_segment JOIN published USING (tablet, seq, hash16)",
)


def unsent_lines(database: Path) -> Iterator[bytes]:
    """Give the lines of entries that were stated here and lie in no segment that was sent.

    Raises
    ------
    DatabaseDamaged
        An entry is not what it was, or the file can't be read as a database.
    DiskTrouble
        The file can't be read.
    """
    with (
        told(database),
        closing(sqlite3.connect(f"{database.absolute().as_uri()}?mode=ro", uri=True)) as found,
    ):
        sent = {line for query in _SENT for line in _lines_sent(found, query)}
        for revision, line in _rows(found):
            if revision_of(line) != revision:
                raise DatabaseDamaged(str(database), f"entry {revision[:12]} has changed")
            if line not in sent:
                yield line


def _rows(found: sqlite3.Connection) -> Iterator[tuple[str, bytes]]:
    try:
        yield from found.execute(_LINES.format(stated_here=_STATED_HERE))
    except sqlite3.OperationalError:  # who stated it is kept in another way
        yield from found.execute(_LINES.format(stated_here="1"))


def _lines_sent(found: sqlite3.Connection, query: str) -> Iterator[bytes]:
    with suppress(sqlite3.OperationalError):
        for (content,) in found.execute(query):
            yield from lines_of(content)
