"""Where entries, drafts and keys are kept on this tablet, so that nothing is lost.

The names here cost nothing to import: SQLAlchemy is loaded when a store is opened, which is
after the first frame is on the screen.
"""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from fieldapp.store.closing import ClosedAtTheEnd

if TYPE_CHECKING:
    from fieldapp.store.checkup import Checkup
    from fieldapp.store.drafts import Drafts
    from fieldapp.store.engine import Database
    from fieldapp.store.gathered import Gathered
    from fieldapp.store.holdings import SqlHoldings
    from fieldapp.store.keys import Keys
    from fieldapp.store.ledger import SqlLedger
    from fieldapp.store.photo_shelf import FilePhotoShelf
    from fieldapp.store.sealing import Sealing
    from fieldapp.store.wholeness import Wholeness


@dataclass(frozen=True)
class Store(ClosedAtTheEnd):
    """What is kept on this tablet. Opened once, by `fieldapp.start`; safe to use from threads."""

    folder: Path
    database: "Database"
    ledger: "SqlLedger"
    drafts: "Drafts"
    keys: "Keys"
    sealing: "Sealing"
    gathered: "Gathered"
    holdings: "SqlHoldings"
    wholeness: "Wholeness"
    photos: "FilePhotoShelf"
    now: Callable[[], datetime]
    """Asks the clock."""

    def check(self) -> "Checkup":
        """Check the file, every entry's bytes, all segments, what counts, and open drafts.

        Raises
        ------
        DatabaseDamaged, BrokenSegment
            The first thing that is not what it was.
        RecordsNotWhole
            What is here is sound, but something that was here is not.
        """
        from fieldapp.store.checkup import check

        found = check(self.database, self.ledger, self.sealing, self.holdings)
        self.drafts.check()
        lacking = self.wholeness.look_closely()
        if lacking is not None:
            raise lacking.told()
        return found

    def close(self) -> None:
        """Let go of the files."""
        self.database.close()


def open_store(folder: Path, *, now: Callable[[], datetime] | None = None) -> Store:
    """Open the store in a folder, made new if the folder never held one.

    What the tablet states by itself, it states at the time that `now` tells.

    Raises
    ------
    DatabaseSetAside
        The database is damaged; a copy is kept and it tells how much can be read.
    DatabaseGone
        There was a database here, and now there is none.
    DatabaseNewer, NotOurDatabase
        It is not for this program.
    DiskTrouble
        The disk is full, read-only or gone.
    """
    from fieldapp.store.opening import opened

    return opened(folder, now)
