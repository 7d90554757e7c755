"""The records of trust as they are kept, each looked at again when it is read."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from sqlalchemy import Connection, Row, bindparam, func, insert, select

from fieldapp.store.pairing import NotPaired, PairedAlready, Pairing
from fieldapp.store.tables import PairingRow, TrustRecordRow
from fieldapp.store.troubles import DatabaseDamaged
from schemas.canonical import Unreadable, revision_of
from schemas.entry import Entry, read_entry
from sync.names import TrustName
from sync.trust import BrokenTrust, Trust

_RECORDS = (
    select(TrustRecordRow.number, TrustRecordRow.hash16, TrustRecordRow.content)
    .where(TrustRecordRow.pairing == bindparam("pairing"))
    .order_by(TrustRecordRow.number, TrustRecordRow.hash16)
)
_COUNT = (
    select(func.count())
    .select_from(TrustRecordRow)
    .where(TrustRecordRow.pairing == bindparam("pairing"))
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

    @cached_property
    def stated(self) -> frozenset[str]:
        """Revisions of the entries that the records state."""
        return frozenset(revision_of(it.encode()) for it in self.trust.lines)


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
    return Known(known.pairing, trust), entries


def records(connection: Connection, after: Known) -> Iterable[tuple[TrustName, bytes]]:
    """Give the records of a pairing that are not among what is known."""
    pairing, known = {"pairing": after.pairing}, {it.name for it in after.trust.records}
    if connection.execute(_COUNT, pairing).scalar_one() == len(known):
        return ()
    rows = connection.execute(_RECORDS, pairing).all()
    found = ((TrustName(it.number, it.hash16), it.content) for it in rows)
    return [(name, content) for name, content in found if name not in known]


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
