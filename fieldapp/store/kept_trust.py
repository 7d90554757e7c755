"""The records of trust as they are kept, each looked at again when it is read."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, Row, bindparam, insert, select

from fieldapp.store.pairing import NotPaired, PairedAlready, Pairing
from fieldapp.store.tables import PairingRow, TrustRecordRow
from fieldapp.store.troubles import DatabaseDamaged
from schemas.canonical import Unreadable
from schemas.entry import Entry, read_entry
from sync.names import TrustName
from sync.trust import BrokenTrust, Trust

_RECORDS = (
    select(TrustRecordRow.number, TrustRecordRow.hash16, TrustRecordRow.content)
    .where(TrustRecordRow.pairing == bindparam("pairing"))
    .where(TrustRecordRow.number > bindparam("after"))
    .order_by(TrustRecordRow.number)
)
_PAIRING = (
    select(PairingRow.number, PairingRow.store, PairingRow.root_keys)
    .order_by(PairingRow.number.desc())
    .limit(1)
)


@dataclass(frozen=True)
class Known:
    """Who is believed by the records up to one, and what they state."""

    pairing: int
    trust: Trust
    stated: frozenset[str] = frozenset()
    """Revisions of the entries that the records state."""


class KeptTrust:
    """The records of the present pairing; those that were read once are not read again."""

    def __init__(self, place: str) -> None:
        self._place = place
        self._known: Known | None = None

    def at(self, connection: Connection) -> Known:
        """Give who is believed now.

        Raises
        ------
        NotPaired
            The tablet belongs to no share.
        DatabaseDamaged
            A record is not what was kept.
        """
        pairing = _pairing(connection)
        if pairing is None:
            raise NotPaired
        known = self._known
        if known is None or known.pairing != pairing.number:
            roots = tuple(pairing.root_keys.split())
            known = Known(pairing.number, Trust(pairing.store, roots))
        try:
            for name, content in records(connection, known):
                known, _ = with_record(known, name, content)
        except BrokenTrust as error:
            reason = f"the record of trust {error.record} is not what was kept"
            raise DatabaseDamaged(self._place, reason) from error
        self._known = known
        return known


def with_record(known: Known, name: TrustName, content: bytes) -> tuple[Known, Sequence[Entry]]:
    """Take the next record in; give what is known then, and the entries that it states.

    Raises
    ------
    BrokenTrust
        As in `Trust.with_record`, or what it states is no entry.
    """
    trust, lines = known.trust.with_record(name.file, content)
    try:
        entries = [read_entry(line, source=name.file) for line in lines]
    except Unreadable as error:
        raise BrokenTrust(name.file, "what it states is no entry") from error
    stated = known.stated.union(it.revision for it in entries)
    return Known(known.pairing, trust, stated), entries


def records(connection: Connection, after: Known) -> Iterable[tuple[TrustName, bytes]]:
    """Give the records of a pairing that come after what is known."""
    known = {"pairing": after.pairing, "after": after.trust.number}
    rows = connection.execute(_RECORDS, known).all()
    return [(TrustName(it.number, it.hash16), it.content) for it in rows]


def put_record(connection: Connection, known: Known, name: TrustName, content: bytes) -> None:
    """Keep a record that was taken in."""
    row = {"number": name.number, "hash16": name.hash16, "content": content}
    connection.execute(insert(TrustRecordRow).values(pairing=known.pairing, **row))


def put_pairing(connection: Connection, pairing: Pairing, *, again: bool) -> bool:
    """Let the tablet belong to a share from now on; tell whether that is new.

    Raises
    ------
    PairedAlready
        It belongs to another, and nobody said that it is to be paired again.
    """
    row = _pairing(connection)
    known = Pairing(row.store, tuple(row.root_keys.split())) if row else None
    if known == pairing:
        return False
    if known is not None and not again:
        raise PairedAlready(known.store, pairing.store)
    values = {"store": pairing.store, "root_keys": " ".join(pairing.root_keys)}
    connection.execute(insert(PairingRow).values(values))
    return True


def _pairing(connection: Connection) -> Row[int, str, str] | None:
    return connection.execute(_PAIRING).one_or_none()
