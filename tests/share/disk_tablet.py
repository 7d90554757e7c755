"""The real holdings with what the model can besides: stating something, showing, being copied."""

import os
import shutil
from collections.abc import Callable, Mapping
from datetime import datetime, timedelta
from itertools import count
from pathlib import Path

from fieldapp.store import open_store
from fieldapp.store.backup import write_backup
from fieldapp.store.bring_back import bring_back
from fieldapp.store.holdings import SqlHoldings
from fieldapp.store.kept_trust import KeptTrust
from fieldapp.store.opening import DATABASE, MARKER
from schemas.canonical import JsonValue
from schemas.entry import Entry, new_entry
from sync.trust import Trust
from tests.made import STARTED_AT, stated, thing_id

_numbers = count(1)


class DiskTablet(SqlHoldings):
    """A store in a folder of its own, paired with a share."""

    def __init__(self, folder: Path, trust: Trust) -> None:
        self._folder = folder
        self._paired_with = trust
        self.now_s: Callable[[], float] = lambda: 0.0
        self.store = store = open_store(folder)
        super().__init__(
            store.database,
            store.keys,
            store.sealing,
            KeptTrust(store.database.place),
            now=self.now,
            random_bytes=os.urandom,
        )
        self.pair(trust.store, trust.root_keys)
        self.tablet_key()  # made now, so that a copy goes by it too
        self._copies: list[DiskTablet] = []

    def now(self) -> datetime:
        """Ask the wall clock here."""
        return STARTED_AT + timedelta(seconds=self.now_s())

    def copied(self) -> "DiskTablet":
        """Give a copy, as an image of the tablet's disk is one."""
        folder = self._folder.with_name(f"{self._folder.name}-{next(_numbers)}")
        folder.mkdir()
        for name in (DATABASE, MARKER):
            shutil.copy(self._folder / name, folder / name)
        self._copies.append(DiskTablet(folder, self._paired_with))
        return self._copies[-1]

    def brought_back(self) -> "DiskTablet":
        """Give what comes back from a backup that was made now, in a folder of its own."""
        folder = self.folder_brought_back(self._folder.with_name(f"back-{next(_numbers)}"))
        self._copies.append(DiskTablet(folder, self._paired_with))
        return self._copies[-1]

    def folder_brought_back(self, folder: Path) -> Path:
        """Make a backup, and bring it back into a new folder."""
        file = folder.with_suffix(".lastrow")
        backup = write_backup(self.store.database.path, file, STARTED_AT)
        bring_back(folder, backup, lambda: STARTED_AT)
        return folder

    def close(self) -> None:
        """Switch the tablet off, and its copies."""
        self.store.close()
        for it in self._copies:
            it.close()

    def state_something(
        self, kind: str = "event", body: Mapping[str, JsonValue] | None = None
    ) -> Entry:
        """State an entry here."""
        number = next(_numbers)
        said = body or {"number": number}
        made = new_entry(kind, 1, thing_id(number), said, stated(number))
        self.store.ledger.add([made])
        return made

    @property
    def entries(self) -> list[Entry]:
        """The entries that count here."""
        ledger = self.store.ledger
        return [it for it in ledger.all() if ledger.get(it.revision)]
