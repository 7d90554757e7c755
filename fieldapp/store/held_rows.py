"""Which segments are held, remembered between questions: an exchange asks once a tablet."""

import threading
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sqlalchemy import Connection, func, select

from fieldapp.store.tables import FormerTabletRow, SegmentRow, ShareSegmentRow
from sync.holdings import Held
from sync.names import SHORT_HASH, SegmentName
from sync.segment import FIRST_PREVIOUS


@dataclass(frozen=True)
class _Seen:
    """How far the rows were read; nothing but a new key takes anything out of them."""

    former: int = 0
    own: int = 0
    others: int = 0


_NOW = select(
    select(func.coalesce(func.max(FormerTabletRow.number), 0)).scalar_subquery(),
    select(func.coalesce(func.max(SegmentRow.seq), 0)).scalar_subquery(),
    select(func.coalesce(func.max(ShareSegmentRow.number), 0)).scalar_subquery(),
)


class HeldRows:
    """Every segment that is held, by tablet and in order. Safe to use from several threads."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._seen = _Seen()
        self._rows: dict[str, tuple[Held, ...]] = {}

    def at(self, connection: Connection, own: str) -> Mapping[str, tuple[Held, ...]]:
        """Give the rows as they are now; only what is new is read."""
        now = _Seen(*connection.execute(_NOW).one())
        with self._lock:
            if now.former != self._seen.former:
                self._seen, self._rows = _Seen(), {}
            for tablet, new in _by_tablet(_new(connection, self._seen, own)).items():
                row = {*self._rows.get(tablet, ()), *new}
                self._rows[tablet] = tuple(sorted(row, key=lambda it: it.name))
            self._seen = now
            return dict(self._rows)


def _new(connection: Connection, seen: _Seen, own: str) -> Iterable[Held]:
    row = ShareSegmentRow
    others = select(row.tablet, row.seq, row.hash16, row.before16, row.size)
    for tablet, seq, hash16, before16, size in connection.execute(
        others.where(row.number > seen.others)
    ):
        yield Held(SegmentName(tablet, seq, hash16), before16, size)
    yield from _new_own(connection, seen, own)


def _new_own(connection: Connection, seen: _Seen, own: str) -> Iterable[Held]:
    """Give what this tablet sealed; each follows the one whose number is one less."""
    query = select(SegmentRow.name, func.length(SegmentRow.content))
    rows = connection.execute(query.where(SegmentRow.seq >= seen.own).order_by(SegmentRow.seq))
    before16 = FIRST_PREVIOUS[:SHORT_HASH]
    for file, size in rows:
        name = SegmentName.of_file(own, file)
        assert name is not None  # noqa: S101 - it was named when it was sealed
        if name.seq > seen.own:
            yield Held(name, before16, size)
        before16 = name.hash16


def _by_tablet(held: Iterable[Held]) -> Mapping[str, list[Held]]:
    found: dict[str, list[Held]] = {}
    for it in held:
        found.setdefault(it.name.tablet, []).append(it)
    return found
