"""What was gathered from the entries about a heading, so that it is gathered once.

Never the truth, and never missed: what is of another state or gone is gathered anew. What bears
another hash than this tablet's was written by something else: it is not believed, and told.
"""

import hmac
import logging

from sqlalchemy import Row, select
from sqlalchemy.dialects.sqlite import insert

from fieldapp.store.binding import Binding
from fieldapp.store.engine import Database
from fieldapp.store.tables import GatheredRow

log = logging.getLogger(__name__)


class Gathered:
    """What the entries about each heading came to, with the state of them in which they did."""

    def __init__(self, database: Database) -> None:
        self._database = database
        self._altered: set[str] = set()

    @property
    def altered(self) -> frozenset[str]:
        """The headings of which something else was found in the place of what was kept."""
        return frozenset(self._altered)

    def read(self, heading: str, state: str) -> bytes | None:
        """Give what was kept of a heading in that state, byte for byte; None otherwise."""
        row = GatheredRow
        query = select(row.state, row.content, row.bound).where(row.heading == heading)
        with self._database.reading() as connection:
            found = connection.execute(query).one_or_none()
            binding = Binding.at(connection)
        if found is None:
            return None
        if binding is None or not _is_ours(binding, heading, found):
            log.warning("what was remembered was altered", extra={"heading": heading})
            self._altered.add(heading)
            return None
        return bytes(found.content) if found.state == state else None

    def keep(self, heading: str, state: str, content: bytes) -> None:
        """Keep what was gathered, in the place of what was kept of the heading before."""
        with self._database.writing() as connection:
            binding = Binding.at(connection)
            if binding is not None:  # else nothing was compared with what was sealed yet
                bound = _bound(binding, heading, state, content)
                row = {"state": state, "content": content, "bound": bound}
                new = insert(GatheredRow).values(heading=heading, **row)
                connection.execute(new.on_conflict_do_update(index_elements=["heading"], set_=row))


def _is_ours(binding: Binding, heading: str, kept: Row[str, bytes, bytes]) -> bool:
    """Whether this tablet kept it; SQLite lets anything stand in any column."""
    if [type(it) for it in kept] != [str, bytes, bytes]:
        return False
    return hmac.compare_digest(_bound(binding, heading, kept.state, kept.content), kept.bound)


def _bound(binding: Binding, heading: str, state: str, content: bytes) -> bytes:
    return binding.of("gathered", heading, state, content)
