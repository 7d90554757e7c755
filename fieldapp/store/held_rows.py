"""Which segments are held, remembered between questions: an exchange asks once a tablet."""

import threading
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from sqlalchemy import Connection, bindparam, func, select

from fieldapp.store.tables import FormerTabletRow, SegmentRow, ShareSegmentRow
from sync.holdings import Held
from sync.names import SHORT_HASH, SegmentName
from sync.segment import FIRST_PREVIOUS

Rows = Mapping[str, tuple[Held, ...]]


@dataclass(frozen=True)
class _Seen:
    """How far the rows were read; nothing but a new key takes anything out of them."""

    others: int = 0
    former: int = 0
    own: int = 0


_OTHERS = select(func.coalesce(func.max(ShareSegmentRow.number), 0))
_NOW = select(
    _OTHERS.scalar_subquery(),
    select(func.coalesce(func.max(FormerTabletRow.number), 0)).scalar_subquery(),
    select(func.coalesce(func.max(SegmentRow.seq), 0)).scalar_subquery(),
)
_OTHERS_AFTER = select(
    ShareSegmentRow.tablet,
    ShareSegmentRow.seq,
    ShareSegmentRow.hash16,
    ShareSegmentRow.before16,
    ShareSegmentRow.size,
).where(ShareSegmentRow.number > bindparam("after"))
_OWN_FROM = (
    select(SegmentRow.name, func.length(SegmentRow.content))
    .where(SegmentRow.seq >= bindparam("first"))
    .order_by(SegmentRow.seq)
)


class OthersRows:
    """Every segment of others, by tablet and in order. Safe to use from several threads."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._seen = _Seen()
        self._rows: dict[str, tuple[Held, ...]] = {}

    def others_at(self, connection: Connection) -> Rows:
        """Give the rows as they are now; only what is new is read."""
        now = _Seen(connection.execute(_OTHERS).scalar_one())
        with self._lock:
            return self._brought_to(now, _others(connection, self._seen))

    def _brought_to(self, now: _Seen, new: Iterable[Held]) -> Rows:
        for tablet, some in _by_tablet(new).items():
            row = {*self._rows.get(tablet, ()), *some}
            self._rows[tablet] = tuple(sorted(row, key=lambda it: it.name))
        self._seen = now
        return dict(self._rows)


class HeldRows(OthersRows):
    """Every segment that is held, a tablet's own too."""

    def at(self, connection: Connection, own: str) -> Rows:
        """Give the rows as they are now; only what is new is read."""
        now = _Seen(*connection.execute(_NOW).one())
        with self._lock:
            if now.former != self._seen.former:
                self._seen, self._rows = _Seen(), {}
            of_others = _others(connection, self._seen)
            return self._brought_to(now, [*of_others, *_own(connection, self._seen, own)])


def _others(connection: Connection, seen: _Seen) -> Iterable[Held]:
    found = connection.execute(_OTHERS_AFTER, {"after": seen.others})
    for tablet, seq, hash16, before16, size in found:
        yield Held(SegmentName(tablet, seq, hash16), before16, size)


def _own(connection: Connection, seen: _Seen, own: str) -> Iterable[Held]:
    """Give what this tablet sealed; each follows the one whose number is one less."""
    rows = connection.execute(_OWN_FROM, {"first": seen.own})
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
