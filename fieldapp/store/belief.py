"""Which of the entries that others stated count, by who is believed.

An entry counts as long as a held segment with it is believed, or a record of trust states it.
What was stated here always counts. The order in which segments, certificates and records come
never matters: whatever changes belief leads through here.
"""

from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache

from sqlalchemy import ColumnElement, Connection, bindparam, insert, select, update

from fieldapp.store.binding import refiling
from fieldapp.store.dialects import insert_or, is_one_of
from fieldapp.store.tables import BeliefRow, CertificateRow, EntryRow, ShareSegmentRow
from schemas.canonical import revision_of
from sync.belief import counts, off_the_branch
from sync.holdings import Held
from sync.names import SegmentName
from sync.segment import lines_of
from sync.tablet_identity import TabletIdentity, read_tablet_identity
from sync.trust import Trust

ASKED_AT_ONCE = 10_000

_CERTIFICATE = select(CertificateRow.content).where(CertificateRow.tablet == bindparam("tablet"))
_read_certificate = lru_cache(maxsize=1024)(read_tablet_identity)


@dataclass(frozen=True)
class Belief:
    """Who is believed at one moment, on one tablet."""

    connection: Connection
    trust: Trust
    own: frozenset[str]

    def of(self, name: SegmentName) -> bool:
        """Whether what a segment holds counts here: it is believed, or this tablet's own."""
        if name.tablet in self.own:
            return True
        believed = counts(self.trust, self._certificates, name.tablet, name.seq)
        return believed and name not in self._off_the_branch(name.tablet)

    @cached_property
    def _off_the_branch(self) -> Callable[[str], frozenset[SegmentName]]:
        return cache(self._off)

    def _off(self, tablet: str) -> frozenset[SegmentName]:
        if tablet not in self.trust.ends:
            return frozenset()
        row = ShareSegmentRow
        query = select(row.seq, row.hash16, row.before16, row.size).where(row.tablet == tablet)
        held = (
            Held(SegmentName(tablet, seq, hash16), before16, size)
            for seq, hash16, before16, size in self.connection.execute(query)
        )
        return off_the_branch(self.trust, tablet, held)

    @cached_property
    def _certificates(self) -> Callable[[str], TabletIdentity | None]:
        return cache(lambda tablet: certificate(self.connection, tablet))


@dataclass(frozen=True)
class Believing:
    """What counts of what is held, also on a tablet that belongs to no share."""

    own: frozenset[str]
    belief: Belief | None
    stated: frozenset[str]
    """Revisions of the entries that the records of trust state."""

    def counts(self, name: SegmentName) -> bool:
        """Whether what a segment holds counts."""
        if self.belief is None:
            return name.tablet in self.own
        return self.belief.of(name)


def certificate(connection: Connection, tablet: str) -> TabletIdentity | None:
    """Give a tablet's certificate, if it was kept."""
    content = connection.execute(_CERTIFICATE, {"tablet": tablet}).scalar_one_or_none()
    return _read_certificate(tablet, content) if content else None


def put_certificate(connection: Connection, identity: TabletIdentity) -> None:
    """Keep a tablet's certificate, in place of an earlier one."""
    new = insert_or(connection, CertificateRow).values(
        tablet=identity.tablet, content=identity.content()
    )
    changed = {"content": new.excluded.content}
    connection.execute(
        new.on_conflict_do_update(index_elements=[CertificateRow.tablet], set_=changed)
    )


def let_count(connection: Connection, revisions: Collection[str]) -> None:
    """Let entries count from now on."""
    _set_counts(connection, revisions, counts=True)


def count_again(
    connection: Connection,
    belief: Belief,
    stated: Collection[str],
    *,
    stated_before: Collection[str] = (),
) -> None:
    """Let count what counts now, after who is believed may have changed.

    Parameters
    ----------
    connection : Connection
        The caller's transaction.
    belief : Belief
        Who is believed now.
    stated, stated_before : collection of str
        Revisions of the entries that the records of trust state now, and stated before.
    """
    risen, fallen = _turned(connection, belief)
    let_count(connection, {*_revisions_in(connection, risen), *stated})
    doubt(connection, {*_revisions_in(connection, fallen), *stated_before}, stated)


def note_changed(connection: Connection) -> None:
    """Keep that what the ledger answers may be another now: who is believed has changed."""
    connection.execute(insert(BeliefRow))


def doubt(connection: Connection, revisions: Collection[str], stated: Collection[str]) -> None:
    """Let no entry of these count that neither a believed segment nor a record vouches for."""
    doubted = _heard_and_counting(connection, revisions).difference(stated)
    if doubted:
        doubted.difference_update(_revisions_in(connection, _believed(connection)))
        _set_counts(connection, doubted, counts=False)


def _heard_and_counting(connection: Connection, revisions: Collection[str]) -> set[str]:
    found: set[str] = set()
    for some in _some_at_once(connection, revisions):
        query = select(EntryRow.revision).where(some, EntryRow.origin.is_not(None))
        found.update(connection.execute(query.where(EntryRow.counts)).scalars())
    return found


def _turned(connection: Connection, belief: Belief) -> tuple[Sequence[int], Sequence[int]]:
    """Give the segments that are believed now and were not, and the other way round."""
    row = ShareSegmentRow
    query = select(row.number, row.tablet, row.seq, row.hash16, row.counts)
    held = connection.execute(query).all()
    turned = [
        it for it in held if belief.of(SegmentName(it.tablet, it.seq, it.hash16)) != it.counts
    ]
    for it in turned:
        change = update(row).where(row.number == it.number).values(counts=not it.counts)
        connection.execute(change)
    risen = [it.number for it in turned if not it.counts]
    return risen, [it.number for it in turned if it.counts]


def _believed(connection: Connection) -> Sequence[int]:
    query = select(ShareSegmentRow.number).where(ShareSegmentRow.counts)
    return connection.execute(query).scalars().all()


def _revisions_in(connection: Connection, numbers: Iterable[int]) -> Iterable[str]:
    for number in numbers:
        query = select(ShareSegmentRow.content).where(ShareSegmentRow.number == number)
        yield from map(revision_of, lines_of(connection.execute(query).scalar_one()))


def _set_counts(connection: Connection, revisions: Collection[str], *, counts: bool) -> None:
    """Set whether entries count, and say so where that changed anything."""
    others = EntryRow.origin.is_not(None), EntryRow.counts.is_not(counts)
    turned = [
        number
        for some in _some_at_once(connection, revisions)
        for number in connection.execute(select(EntryRow.sequence).where(some, *others)).scalars()
    ]
    if turned:
        with refiling(connection, turned):
            change = update(EntryRow).where(EntryRow.sequence == bindparam("number"))
            rows = [{"number": number} for number in turned]
            connection.execute(change.values(counts=counts), rows)
        note_changed(connection)


def _some_at_once(
    connection: Connection, revisions: Collection[str]
) -> Iterable[ColumnElement[bool]]:
    waiting = sorted(revisions)
    for start in range(0, len(waiting), ASKED_AT_ONCE):
        some = waiting[start : start + ASKED_AT_ONCE]
        yield is_one_of(connection, EntryRow.revision, some)
