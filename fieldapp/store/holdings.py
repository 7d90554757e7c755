"""What a tablet holds of its own and of everybody else's segments, on SQLite.

Each call is one transaction: it is on the disk as a whole when it returns, or nothing of it.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import datetime

from sqlalchemy import Connection, select

from fieldapp.store import held_segments, receipts, share_notes
from fieldapp.store.archive import SqlArchive
from fieldapp.store.bad_words import BAD_FILE, bad_words
from fieldapp.store.belief import Believing, certificate, put_certificate
from fieldapp.store.engine import Database
from fieldapp.store.held_check import HeldCheck
from fieldapp.store.held_rows import HeldRows
from fieldapp.store.kept_trust import KeptTrust
from fieldapp.store.keys import Keys
from fieldapp.store.ledger import write_entries
from fieldapp.store.own_clock import CLOCK_NOTE, OwnClock
from fieldapp.store.own_words import words_of
from fieldapp.store.sealing import Sealing
from fieldapp.store.tables import HERE, FormerTabletRow
from fieldapp.store.troubles import DatabaseDamaged
from schemas.bodies.bad_file import BadFile
from schemas.canonical import Unreadable
from schemas.entry import Entry
from schemas.signatures import SigningKey
from sync.holdings import Held, Holdings, Look
from sync.names import SegmentName, short_hash
from sync.segment import Segment, tablet_id
from sync.tablet_identity import TabletIdentity

_FORMER = select(FormerTabletRow.tablet).order_by(FormerTabletRow.number)


class SqlHoldings(SqlArchive, Holdings):
    """The holdings in one SQLite file.

    Parameters
    ----------
    database : Database
        Where they are kept.
    keys : Keys
        Holds the tablet's own key.
    sealing : Sealing
        The tablet's own row.
    trust : KeptTrust
        The site's records, as they were read.
    now : callable
        Asks the clock, for the receipts that this tablet writes.
    random_bytes : callable
        Gives so many bytes from the system's source of randomness.
    """

    def __init__(
        self,
        database: Database,
        keys: Keys,
        sealing: Sealing,
        trust: KeptTrust,
        *,
        now: Callable[[], datetime],
        random_bytes: Callable[[int], bytes],
    ) -> None:
        super().__init__(database, trust)
        self._keys = keys
        self._sealing = sealing
        self._now = now
        self._random_bytes = random_bytes
        self._rows = HeldRows()

    # --- this tablet --------------------------------------------------------------------

    def tablet_key(self) -> SigningKey:
        """Give the key that this tablet goes by now."""
        return self._keys.tablet()

    def own_tablets(self) -> tuple[str, ...]:
        """Give the ids that this tablet went by, the present one last."""
        with self._database.reading() as connection:
            own = self._own(connection)
        if own[-1]:
            return own
        return (*own[:-1], tablet_id(self._keys.tablet().public_key))

    def seal(self) -> bool:
        """Seal every own entry that waits into this tablet's row; tell whether there was one.

        Where they show that this tablet's clock was off, a note that says so is sealed with them.
        """
        if self._sealing.waiting():
            self._note_clock()
        return bool(self._sealing.seal())

    def _note_clock(self) -> None:
        with self._database.writing() as connection:
            tablet = tablet_id(self._keys.tablet_within(connection).public_key)
            clock = OwnClock(connection, tablet, self._own(connection))
            write_entries(connection, clock.notes(self._now(), self._random_bytes))

    def said_of_clocks(self) -> Sequence[tuple[str, Entry]]:
        """Give every note that counts here about a tablet's own clock, oldest first, and whose.

        Raises
        ------
        DatabaseDamaged
            One of them is not what was kept.
        """
        return self._words_of(CLOCK_NOTE)

    def ahead_of(self, now: datetime) -> Mapping[str, datetime]:
        """Give the other tablets that gave a later time than now, each with its latest."""
        with self._database.reading() as connection:
            return OwnClock(connection, "", self._own(connection)).ahead_of(now)

    def begin_anew(self) -> None:
        """Take a new key, which the old one names as its follower, in one step."""
        with self._database.writing() as connection:
            before = self._keys.tablet_within(connection)
            old = tablet_id(before.public_key)
            held_segments.give_up_row(connection, old)
            if certificate(connection, old) is None:
                put_certificate(connection, TabletIdentity.of_key(before))
            key = self._keys.renew_tablet(connection)
            put_certificate(connection, TabletIdentity.of_key(key, before=before))

    # --- segments -----------------------------------------------------------------------

    def rows(self) -> Mapping[str, tuple[Held, ...]]:
        """Give every segment that is held, by tablet and in order; forks side by side."""
        with self._database.reading() as connection:
            return self._rows.at(connection, self._present(connection))

    def content(self, name: SegmentName) -> bytes | None:
        """Give a held segment's bytes.

        Raises
        ------
        DatabaseDamaged
            They are not what was kept.
        """
        with self._database.reading() as connection:
            own = self._present(connection)
            found = held_segments.content_of(connection, name, own)
        if found is not None and short_hash(found) != name.hash16:
            reason = f"the bytes of segment {name.path} have changed"
            raise DatabaseDamaged(self._database.place, reason)
        return found

    def check(self) -> int:
        """Check what others sealed, and what of it counts; give how many segments it is.

        Raises
        ------
        BrokenSegment, DatabaseDamaged
            As in `HeldCheck.check`.
        """
        with self._database.reading() as connection:
            looked = HeldCheck(connection, self._database.place)
            return looked.check(self.believing(connection))

    def believing(self, connection: Connection) -> Believing:
        """Give what counts of what is held, in the caller's transaction."""
        known, own = self._known(connection), frozenset(self._own(connection))
        belief = self._belief(connection, known.trust) if known else None
        return Believing(own, belief, known.stated if known else frozenset())

    # --- what is known of the share -----------------------------------------------------

    def published(self) -> Mapping[SegmentName, float]:
        """Give when own segments were put into the share, or last seen good there."""
        with self._database.reading() as connection:
            return share_notes.published(connection)

    def set_published(self, names: Iterable[SegmentName], at_s: float | None) -> None:
        """Keep that segments were put, or with None that they have to be put again."""
        with self._database.writing() as connection:
            if at_s is None:
                share_notes.forget_published(connection, names)
            else:
                share_notes.put_published(connection, names, at_s)

    def acknowledged(self) -> frozenset[SegmentName]:
        """Give the segments that an enrolled machine other than their own says it holds."""
        with self._database.reading() as connection:
            return receipts.acknowledged(connection, self._present(connection))

    def acknowledge(self, names: Sequence[SegmentName]) -> None:
        """State, as an entry of this tablet, that it holds segments of others."""
        with self._database.writing() as connection:
            tablet = tablet_id(self._keys.tablet_within(connection).public_key)
            entries = receipts.receipts(
                connection,
                names,
                tablet=tablet,
                now=self._now(),
                random_bytes=self._random_bytes,
            )
            write_entries(connection, entries)
            receipts.put_words(connection, tablet, entries, HERE)

    def said_bad(self) -> Sequence[tuple[str, Entry]]:
        """Give every entry that counts here about a bad file, oldest first, and who said it.

        Raises
        ------
        DatabaseDamaged
            One of them is not what was kept.
        """
        return self._words_of(BAD_FILE)

    def say_bad(self, new: Sequence[BadFile], good_again: Sequence[Entry]) -> None:
        """State, as entries of this tablet, which files stay bad, and which of its reports end."""
        with self._database.writing() as connection:
            entries = bad_words(
                connection,
                new,
                good_again,
                tablet=tablet_id(self._keys.tablet_within(connection).public_key),
                now=self._now(),
                random_bytes=self._random_bytes,
            )
            write_entries(connection, entries)

    def looks(self) -> Mapping[str, Look]:
        """Give what was found about the reports of others, by revision."""
        with self._database.reading() as connection:
            return share_notes.looks(connection)

    def note_looks(self, looks: Mapping[str, Look]) -> None:
        """Keep what was found about reports of others, by revision."""
        with self._database.writing() as connection:
            share_notes.note_looks(connection, looks)

    def note_exchanged(self, at_s: float) -> None:
        """Keep when an exchange with the share ended."""
        with self._database.writing() as connection:
            share_notes.note_exchanged(connection, self._trust.at(connection).pairing, at_s)

    def exchanged_at_s(self) -> float | None:
        """Give when the last exchange ended; None before the first, and without a share."""
        with self._database.reading() as connection:
            known = self._known(connection)
            return share_notes.exchanged_at_s(connection, known.pairing) if known else None

    # --- within a transaction, or one of its own ----------------------------------------

    def _present(self, connection: Connection) -> str:
        """Give the id that this tablet goes by; none before its key is made."""
        key = self._keys.tablet_seen(connection)
        return tablet_id(key.public_key) if key else ""

    def _own(self, connection: Connection) -> tuple[str, ...]:
        former = connection.execute(_FORMER).scalars().all()
        return (*former, self._present(connection))

    def _words_of(self, kind: str) -> Sequence[tuple[str, Entry]]:
        with self._database.reading() as connection:
            try:
                return tuple(words_of(connection, kind))
            except Unreadable as error:
                reason = f"{error.source}: {error.reason}"
                raise DatabaseDamaged(self._database.place, reason) from error

    def _is_held(self, connection: Connection, name: SegmentName) -> bool:
        own = self._present(connection)
        return held_segments.content_of(connection, name, own) is not None

    def _put_words(
        self, connection: Connection, segment: Segment, name: SegmentName, number: int
    ) -> None:
        receipts.put_words(connection, name.tablet, segment.entries, number)

    def _forget_share(self, connection: Connection) -> None:
        share_notes.forget_share(connection)
