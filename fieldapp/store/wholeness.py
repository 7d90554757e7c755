"""Whether everything that was ever kept here is still here, as it was.

At every look a few numbers are compared, at the first one everything that is bound. Only where
something doesn't add up is every entry compared with what was sealed, to say what it is.
"""

import logging
import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass

from sqlalchemy import Connection, text

from fieldapp.store.binding import SECRET_BYTES, Binding, highest_number
from fieldapp.store.comparison import Compared, compare, put_back
from fieldapp.store.engine import Database
from fieldapp.store.high_mark import HighMark, HighMarks
from fieldapp.store.holdings import SqlHoldings
from fieldapp.store.lacking import Lacking
from fieldapp.store.ledger import SqlLedger
from fieldapp.store.sealing import Sealing
from fieldapp.store.troubles import DatabaseDamaged
from schemas.entry import Entry
from schemas.trouble import DiskTrouble
from sync.ledger import name_in
from sync.names import SegmentName

log = logging.getLogger(__name__)


@dataclass(frozen=True)
class _Signs:
    """What a glance tells: nought and nothing while everything is here."""

    gone: int
    segments: tuple[SegmentName, ...]
    mark: bool
    from_share: int
    """Segments from the share: when more come, what was missing may be here again."""

    @property
    def are_good(self) -> bool:
        return not (self.gone or self.segments or self.mark)


_ENTRIES = text("SELECT count(*) FROM entry")
_FROM_SHARE = text("SELECT count(*) FROM share_segment")
_SHARED_AND_GONE = text("""
    SELECT count(*) FROM (
        SELECT tablet, seq, hash16 FROM published
        UNION SELECT tablet, seq, hash16 FROM acknowledged WHERE said_in = 0
        EXCEPT SELECT tablet, seq, hash16 FROM share_segment
        EXCEPT SELECT :present, seq, substr(name, 10, 16) FROM segment)
""")
"""They were held when they were put into the share, or when this tablet said to hold them."""


class Wholeness:
    """The look at what one tablet keeps. Safe to use from several threads."""

    def __init__(
        self,
        database: Database,
        ledger: SqlLedger,
        sealing: Sealing,
        holdings: SqlHoldings,
        marks: HighMarks,
        random_bytes: Callable[[int], bytes],
    ) -> None:
        self._database = database
        self._ledger = ledger
        self._sealing = sealing
        self._holdings = holdings
        self._marks = marks
        self._random_bytes = random_bytes
        self._lock = threading.RLock()
        self._signs: _Signs | None = None
        self._lacking: Lacking | None = None

    def begin(self) -> None:
        """Begin to bind where nothing is kept yet.

        What an older version kept is compared with what was sealed first, at the first look.
        """
        with self._database.reading() as connection:
            is_new = Binding.at(connection) is None and highest_number(connection) == 0
        if is_new:
            self._bind_everything()

    def begin_anew(self) -> None:
        """Begin the mark anew: a person brought back what is here, and was told what isn't."""
        self.begin()
        if self._is_bound():
            self._marks.begin()

    @property
    def lacking(self) -> Lacking | None:
        """What was missing or altered at the last look; looked at now if nobody did."""
        return self.look() if self._signs is None else self._lacking

    def look(self) -> Lacking | None:
        """Look whether something is missing or altered; None while everything is as it was."""
        with self._lock:
            signs, before = self._glance(), self._signs
            if before is None:
                is_known = signs.are_good and self._all_fits()
            else:
                is_known = signs == before or (signs.are_good and not self._lacking)
            if not is_known:
                return self.look_closely()
            self._signs = signs
            return self._lacking

    def look_closely(self) -> Lacking | None:
        """Compare every entry with what was sealed, and say what is missing or altered."""
        with self._lock:
            self._signs = self._glance()
            self._lacking = lacking = self._compared(self._signs)
            self._ledger.leave_out(lacking.left_out if lacking else frozenset())
            if lacking:
                log.warning("records are not whole", extra={"what": lacking.told().happened})
            return lacking

    def put_back(self) -> Lacking | None:
        """Put back what can be, and give what is still missing or altered."""
        with self._lock:
            compared = compare(self._database, self._sealing, self._holdings)
            with self._database.writing() as connection:
                put_back(connection, compared)
            self._signs = self._glance()
            if self._signs.mark and self._all_fits():
                self._marks.begin()
            log.warning("records put back", extra={"entries": len(compared.corrections)})
            return self.look_closely()

    # --- inside -------------------------------------------------------------------------------

    def _glance(self) -> _Signs:
        with self._database.reading() as connection:
            mark = self._marks.read(connection)
            return _Signs(
                gone=_gone(connection, mark),
                segments=self._marks.not_held(connection, mark) if mark else (),
                mark=mark is None and Binding.at(connection) is not None,
                from_share=connection.execute(_FROM_SHARE).scalar_one(),
            )

    def _all_fits(self) -> bool:
        if self._shared_and_gone():
            return False
        with self._database.reading() as connection:
            binding = Binding.at(connection)
            return binding is not None and binding.all_fit()

    def _shared_and_gone(self) -> int:
        present = {"present": self._holdings.own_tablets()[-1]}
        with self._database.reading() as connection:
            return int(connection.execute(_SHARED_AND_GONE, present).scalar_one())

    def _compared(self, signs: _Signs) -> Lacking | None:
        try:
            compared = compare(self._database, self._sealing, self._holdings)
        except DatabaseDamaged as damage:
            log.warning("%s", damage)
            return Lacking(entries=max(signs.gone, 1))
        is_bound, shared = self._is_bound(), self._shared_and_gone()
        fits, no_row_cut = self._would_fit(compared), not (signs.segments or shared)
        is_known = fits and not signs.mark and (is_bound or no_row_cut)
        lacking = Lacking(
            entries=len(compared.corrections) + len(compared.unread) or signs.gone,
            headings=_touched(compared) if is_known else None,
            segments=signs.segments,
            shared=shared,
            mark=signs.mark,
            can_be_put_back=fits and no_row_cut and not compared.unread,
            left_out=compared.differing,
        )
        if lacking != _NOTHING:
            return lacking
        if not is_bound:
            self._bind_everything()
        return None

    def _would_fit(self, compared: Compared) -> bool:
        """Try whether all is what it was once it is put back; nothing of the try stays.

        Where nothing can be written, nothing can be put back.
        """
        fits = False
        with suppress(_TriedEnough, DiskTrouble), self._database.writing() as connection:
            put_back(connection, compared)
            binding = Binding.at(connection)
            fits = not _gone(connection, self._marks.read(connection)) and (
                binding is None or binding.all_fit()
            )
            raise _TriedEnough
        return fits

    def _is_bound(self) -> bool:
        with self._database.reading() as connection:
            return Binding.at(connection) is not None

    def _bind_everything(self) -> None:
        """Bind what is here; the mark first, so that it is never missing where all is bound."""
        self._marks.begin()
        with self._database.writing() as connection:
            Binding.begun(connection, self._random_bytes(SECRET_BYTES))


_NOTHING = Lacking(headings=frozenset(), can_be_put_back=True)
"""What is found where nothing is lacking."""


class _TriedEnough(Exception):
    """Ends a transaction that was only a try."""


def _gone(connection: Connection, mark: HighMark | None) -> int:
    """Count the numbers of entries that were given once and have no entry now."""
    ever = max(highest_number(connection), mark.newest if mark else 0)
    return ever - int(connection.execute(_ENTRIES).scalar_one())


def _touched(compared: Compared) -> frozenset[str] | None:
    """Give the headings that what differs is about; None where something is about every one."""
    named = {_about(it.entry) for it in compared.corrections} | set(compared.unread.values())
    return None if None in named else frozenset(it for it in named if it is not None)


def _about(entry: Entry) -> str | None:
    return entry.id if entry.kind == "heading" else name_in(entry.body, "heading")
