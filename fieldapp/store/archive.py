"""What others sealed and who is believed, in a tablet's database or an office's.

Each call is one transaction: it is kept as a whole when it returns, or nothing of it.
"""

from collections.abc import Iterable, Mapping, Sequence

from sqlalchemy import Connection

from fieldapp.store import held_segments, share_notes
from fieldapp.store.belief import (
    Belief,
    certificate,
    count_again,
    doubt,
    let_count,
    note_changed,
    put_certificate,
)
from fieldapp.store.held_rows import OthersRows
from fieldapp.store.kept_trust import (
    KeptTrust,
    Known,
    put_pairing,
    put_record,
    records,
    with_record,
)
from fieldapp.store.ledger import write_entries, write_labelled
from fieldapp.store.pairing import NotPaired, Pairing
from fieldapp.store.tables import SITE
from fieldapp.store.transactions import Transactions
from sync.holdings import Archive, Held, MetBad
from sync.names import SegmentName, TrustName
from sync.segment import Segment
from sync.tablet_identity import TabletIdentity
from sync.trust import Trust


class SqlArchive(Archive):
    """The archive in one database.

    Parameters
    ----------
    database : Transactions
        Where it is kept.
    trust : KeptTrust
        The site's records, as they were read.
    """

    def __init__(self, database: Transactions, trust: KeptTrust) -> None:
        self._database = database
        self._trust = trust
        self._others = OthersRows()

    # --- segments -----------------------------------------------------------------------

    def rows(self) -> Mapping[str, tuple[Held, ...]]:
        """Give every segment that is held, by tablet and in order; forks side by side."""
        with self._database.reading() as connection:
            return self._others.others_at(connection)

    def take_in(self, segment: Segment, name: SegmentName) -> None:
        """Keep a verified segment and its entries, whether they count or not, in one step."""
        labelled = tuple(zip(segment.labels, segment.lines, strict=True))
        with self._database.writing() as connection:
            if self._is_held(connection, name):
                return
            known = self._trust.at(connection)
            counts = self._belief(connection, known.trust).of(name)
            number = held_segments.put_segment(connection, segment, name, counts)
            self._put_words(connection, segment, name, number)
            here = write_labelled(connection, labelled, origin=name.tablet, counts=counts)
            if counts:
                let_count(connection, here)
            else:
                doubt(connection, here, known.stated)
            if name.tablet in known.trust.ends:  # it may tell which branch the others are on
                self._count_again(connection, known)
            share_notes.note_good(connection, name.path)

    # --- trust --------------------------------------------------------------------------

    def pair(self, store: str, root_keys: Sequence[str], *, again: bool = False) -> None:
        """Let this database belong to a share: its id, and the site's keys, as a person saw them.

        Raises
        ------
        PairedAlready
            It belongs to another one, and `again` was not asked for.
        """
        pairing = Pairing(store, tuple(root_keys))
        with self._database.writing() as connection:
            before = self._known(connection)
            if put_pairing(connection, pairing, again=again):
                self._forget_share(connection)
                known = self._trust.at(connection)
                stated_before = before.stated if before else frozenset()
                self._count_again(connection, known, stated_before)
                note_changed(connection)

    def identity(self, tablet: str) -> TabletIdentity | None:
        """Give a tablet's certificate, if it was read before."""
        with self._database.reading() as connection:
            return certificate(connection, tablet)

    def keep_identity(self, identity: TabletIdentity) -> None:
        """Keep a tablet's certificate, and let count what counts by it."""
        with self._database.writing() as connection:
            put_certificate(connection, identity)
            known = self._known(connection)
            if known is not None:
                self._count_again(connection, known)

    def trust(self) -> Trust:
        """Give who is believed.

        Raises
        ------
        NotPaired
            This belongs to no share yet.
        """
        with self._database.reading() as connection:
            return self._trust.at(connection).trust

    def trust_records(self) -> Sequence[tuple[TrustName, bytes]]:
        """Give the records of trust, from the first."""
        with self._database.reading() as connection:
            known = self._trust.at(connection)
            start = Known(known.pairing, Trust(known.trust.store, known.trust.root_keys))
            return tuple(records(connection, start))

    def take_trust(self, name: TrustName, content: bytes) -> None:
        """Keep the next record and let count what counts by it, in one step.

        Raises
        ------
        BrokenTrust
            As in `Trust.with_record`; nothing was kept.
        """
        with self._database.writing() as connection:
            before = self._trust.at(connection)
            known, entries = with_record(before, name, content)
            put_record(connection, before, name, content)
            write_entries(connection, entries, origin=SITE)
            unsaid = before.stated.union(it.revision for it in entries) - known.stated
            self._count_again(connection, known, unsaid)
            note_changed(connection)

    # --- what is known of the share -----------------------------------------------------

    def bad_files(self) -> Mapping[str, MetBad]:
        """Give what was found bad in the share and has not been seen good since."""
        with self._database.reading() as connection:
            return share_notes.bad_files(connection)

    def note_bad(self, paths: Iterable[str], reason: str, at_s: float) -> None:
        """Keep that files were found bad once more."""
        with self._database.writing() as connection:
            share_notes.note_bad(connection, paths, reason, at_s)

    def note_good(self, path: str) -> None:
        """Keep that a file is good now."""
        with self._database.writing() as connection:
            share_notes.note_good(connection, path)

    # --- within a transaction: a tablet has a row of its own besides ----------------------

    def _is_held(self, connection: Connection, name: SegmentName) -> bool:
        return held_segments.is_held(connection, name)

    def _put_words(
        self, connection: Connection, segment: Segment, name: SegmentName, number: int
    ) -> None:
        """Keep what a segment says of others; who puts nothing into a share asks nobody."""

    def _own(self, _connection: Connection) -> tuple[str, ...]:
        return ()

    def _forget_share(self, connection: Connection) -> None:
        share_notes.forget_bad(connection)

    def _belief(self, connection: Connection, trust: Trust) -> Belief:
        return Belief(connection, trust, frozenset(self._own(connection)))

    def _known(self, connection: Connection) -> Known | None:
        try:
            return self._trust.at(connection)
        except NotPaired:
            return None

    def _count_again(
        self, connection: Connection, known: Known, stated_before: frozenset[str] = frozenset()
    ) -> None:
        belief = self._belief(connection, known.trust)
        count_again(connection, belief, known.stated, stated_before=stated_before)
