"""A home with a backup and more than that, and what can happen to it."""

from collections.abc import Callable
from hashlib import sha256
from pathlib import Path

from fieldapp.store import Store, open_store
from fieldapp.store.backup_file import Backup, read_backup
from fieldapp.store.backups import generations, keep_generation
from fieldapp.store.bring_back import BroughtBack, bring_back_newest
from fieldapp.store.home import BACKUPS, DATABASE, MINE_FILE, SETTINGS_FILE
from schemas.wrapped_key import WrappedKey, wrap
from tests.made import PERSON_KEY, STARTED_AT, entry

MINE = b'{"name":"Wrenfall","demo":false,"site_key":"aa","tablet":"t-7"}'
SETTINGS = b'units = "metres"\n'
BEFORE, AFTER = range(20), range(20, 30)
"""Entries that the backup holds, and those that came after it."""


def filled_home(place: Path) -> Path:
    """Make a home with entries, some sealed, drafts and a key; a backup; and more after it."""
    with open_store(place, now=lambda: STARTED_AT) as store:
        (place / MINE_FILE).write_bytes(MINE)
        (place / SETTINGS_FILE).write_bytes(SETTINGS)
        store.ledger.add(map(entry, BEFORE))
        store.sealing.seal()
        store.drafts.begin("d-1", b"about 1")
        store.drafts.touch("d-1", b"touch 1")
        store.drafts.begin("d-2", b"about 2")
        store.keys.keep(wrapped("4711"))
        assert not keep_generation(store).troubles
        store.ledger.add(map(entry, AFTER))
        store.drafts.touch("d-1", b"touch 2")
        store.drafts.finish("d-2", [])
        store.drafts.begin("d-3", b"about 3")
        store.keys.keep(wrapped("0815"))
    return place


def wrapped(code: str) -> WrappedKey:
    """Give the invented person's key under a sign code."""
    return wrap(PERSON_KEY, code, owner="p-1", random_bytes=bytes(28), cost=16)


def newest(home: Path) -> Backup:
    """Give the newest backup of a home."""
    return read_backup(generations(home / BACKUPS)[-1].path)


def spoil(home: Path, how: Callable[[bytearray], object]) -> bytes:
    """Damage the database; give what is left of it."""
    content = bytearray((home / DATABASE).read_bytes())
    how(content)
    (home / DATABASE).write_bytes(content)
    return bytes(content)


def headless(content: bytearray) -> None:
    """Take the first bytes away: nothing opens it, and all can be read."""
    content[:100] = bytes(100)


def unreadable(content: bytearray) -> None:
    """Leave nothing that could be read."""
    content[:] = b"no database at all " * 99


def brought_back(home: Path) -> BroughtBack:
    """Bring a home back from the newest backup beside it."""
    return bring_back_newest(home, None, lambda: STARTED_AT)


def numbers(store: Store) -> set[int]:
    """Give the numbers of the entries that are here."""
    known = {entry(number).revision: number for number in (*BEFORE, *AFTER)}
    return {known[it.revision] for it in store.ledger.all()}


def digest(folder: Path) -> str:
    """Sum up every file of a folder, names and bytes."""
    files = sorted(it for it in folder.rglob("*") if it.is_file())
    parts = (f"{it.relative_to(folder)} {sha256(it.read_bytes()).hexdigest()}" for it in files)
    return "\n".join(parts)
