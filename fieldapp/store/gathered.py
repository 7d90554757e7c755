"""What was gathered from the entries about a heading, so that it is gathered once.

Never the truth, and never missed: what is torn, of another state or gone is gathered anew.
"""

import zlib

from sqlalchemy import select
from sqlalchemy.dialects.sqlite import insert

from fieldapp.store.engine import Database
from fieldapp.store.tables import GatheredRow


class Gathered:
    """What the entries about each heading came to, with the state of them in which they did."""

    def __init__(self, database: Database) -> None:
        self._database = database

    def read(self, heading: str, state: str) -> bytes | None:
        """Give what was kept of a heading in that state, byte for byte; None otherwise."""
        query = select(GatheredRow.content, GatheredRow.check_crc).where(
            GatheredRow.heading == heading, GatheredRow.state == state
        )
        with self._database.reading() as connection:
            found = connection.execute(query).one_or_none()
        if found is None or _crc(heading, state, found.content) != found.check_crc:
            return None
        return bytes(found.content)

    def keep(self, heading: str, state: str, content: bytes) -> None:
        """Keep what was gathered, in the place of what was kept of the heading before."""
        row = {"state": state, "content": content, "check_crc": _crc(heading, state, content)}
        kept = insert(GatheredRow).values(heading=heading, **row)
        with self._database.writing() as connection:
            connection.execute(kept.on_conflict_do_update(index_elements=["heading"], set_=row))


def _crc(heading: str, state: str, content: bytes) -> int:
    return zlib.crc32(b"\0".join((heading.encode(), state.encode(), content)))
