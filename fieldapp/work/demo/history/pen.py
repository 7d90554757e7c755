"""Writing down many entries, in the order of time, a few hundred to a transaction.

A job of today keeps one entry and looks at the ledger again. A year and a half of them would
take minutes; what is written here is the same, byte for byte.
"""

from datetime import datetime
from typing import Final

from fieldapp.work.demo.history.draws import Draws
from fieldapp.work.site import Site
from fieldapp.work.writing import SCHEMA_VERSION
from schemas.entry import Entry, Stated, new_entry
from schemas.logical_clock import LogicalClock, LogicalTime
from schemas.part import Part
from schemas.signatures import SigningKey, sign
from schemas.uuid7 import RANDOM_BYTES, uuid7

AT_ONCE: Final = 400


class Pen:
    """Writes entries of one home, each later than the one before."""

    def __init__(self, site: Site, draws: Draws) -> None:
        self._site = site
        self._draws = draws
        self._clock = LogicalClock(site.store.ledger.latest_clock(0) or LogicalTime(0))
        self._waiting: list[Entry] = []
        self._ids = 0

    def new_id(self, at: datetime) -> str:
        """Make the id of a thing that begins at a time."""
        self._ids += 1
        return str(uuid7(_ms(at), self._draws.bytes(RANDOM_BYTES, self._ids)))

    def write(  # noqa: PLR0913 - what an envelope says
        self,
        kind: str,
        body: Part,
        author: str,
        at: datetime,
        *,
        thing_id: str | None = None,
        parents: tuple[str, ...] = (),
        key: SigningKey | None = None,
    ) -> Entry:
        """Write one entry, signed where a key is given; it is on the disk by `finish`."""
        self._clock = self._clock.tick(_ms(at))
        entry = new_entry(
            kind,
            SCHEMA_VERSION,
            thing_id or self.new_id(at),
            body.model_dump(mode="json", exclude_none=True),
            Stated(author, at, self._site.settings.zone, self._clock.latest),
            parents=parents,
        )
        if key is not None:
            entry = sign(entry, key)
        self._waiting.append(entry)
        if len(self._waiting) >= AT_ONCE:
            self.finish()
        return entry

    def finish(self) -> None:
        """Put what was written on the disk."""
        self._site.store.ledger.add(self._waiting)
        self._waiting = []


def _ms(at: datetime) -> int:
    return int(at.timestamp() * 1000)
