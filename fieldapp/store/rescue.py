"""Sets a damaged database aside, and puts a new one in its place with what can be read."""

import hashlib
import os
import shutil
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path

from fieldapp.store.drafts import Drafts
from fieldapp.store.engine import Database
from fieldapp.store.keys import Keys
from fieldapp.store.ledger import write_entries
from fieldapp.store.pages import with_log
from fieldapp.store.salvage import Saved, readable_in
from fieldapp.store.troubles import DatabaseDamaged, DatabaseSetAside
from fieldapp.store.upgrade import upgrade
from sync.durable import disk_trouble, sync_folder, write_once

_BESIDE = ("-journal", "-wal", "-shm")
_PENDING = "salvaging"


@dataclass(frozen=True)
class Rescued:
    """What was carried over, where the damaged database lies, and the lines as a file."""

    saved: Saved
    copy: Path
    lines: Path


def set_aside(damage: DatabaseDamaged) -> DatabaseSetAside:
    """Keep a copy of a damaged database and tell how much of it can be read.

    Done again for the same bytes, it is the same copy.
    """
    path = Path(damage.database)
    try:
        copy = _copy(path)
        readable = len(_readable(copy / path.name).entries)
    except OSError as error:
        raise disk_trouble(error, path) from error
    return DatabaseSetAside(damage.database, damage.reason, str(copy), readable)


def interrupted(path: Path) -> DatabaseSetAside | None:
    """Tell of a rescue that was cut short and has to be done again before anything else."""
    copy = _pending_copy(path)
    if copy is None:
        return None
    readable = len(_readable(copy / path.name).entries)
    return DatabaseSetAside(str(path), "its rescue was cut short", str(copy), readable)


def salvage(path: Path) -> Rescued:
    """Carry what can be read of a database into a new one that takes its place.

    The old one is kept as a copy first, and its entries are also written as a file of JSON
    lines. Killed in the middle, it is done again from that copy.
    """
    try:
        copy = _pending_copy(path) or _copy(path)
        saved = _readable(copy / path.name)
        lines = path.with_name(f"salvaged-{copy.name.rpartition('-')[2]}.jsonl")
        write_once(lines, b"".join(entry.line + b"\n" for entry in saved.entries))
        pending = path.with_name(_PENDING)
        write_once(pending, copy.name.encode())
        _replace(path, saved)
        pending.unlink()
        sync_folder(path.parent)
    except OSError as error:
        raise disk_trouble(error, path) from error
    return Rescued(saved, copy, lines)


def _replace(path: Path, saved: Saved) -> None:
    new = path.with_name(path.name + ".new")
    _remove(new)
    _fill(new, saved)
    _remove(path)  # its journal too: it would be rolled into the new one
    os.replace(new, path)  # noqa: PTH105 - the same call on every system
    sync_folder(path.parent)


def _pending_copy(path: Path) -> Path | None:
    pending = path.with_name(_PENDING)
    return path.with_name(pending.read_text()) if pending.exists() else None


def _files(path: Path) -> list[Path]:
    names = (path.name, *(path.name + end for end in _BESIDE))
    return [file for file in map(path.with_name, names) if file.exists()]


def _remove(path: Path) -> None:
    for file in _files(path):
        file.unlink()


def _copy(path: Path) -> Path:
    digest = hashlib.sha256(b"".join(file.read_bytes() for file in _files(path)))
    copy = path.with_name(f"damaged-{digest.hexdigest()[:16]}")
    if not copy.exists():
        part = path.with_name(copy.name + ".tmp")
        shutil.rmtree(part, ignore_errors=True)
        part.mkdir()
        for file in _files(path):
            write_once(part / file.name, file.read_bytes())
        part.rename(copy)
        sync_folder(copy.parent)
    return copy


def _readable(path: Path) -> Saved:
    content = path.read_bytes() if path.exists() else b""
    log = path.with_name(path.name + "-wal")
    if log.exists():
        content = with_log(content, log.read_bytes())
    return readable_in(content)


def _fill(path: Path, saved: Saved) -> None:
    database = Database(path)
    try:
        upgrade(database)
        _fill_entries(database, saved)
        _fill_drafts(Drafts(database), saved)
        keys = Keys(database, os.urandom)
        for key in saved.keys:
            keys.keep(key)
    finally:
        database.close()


def _fill_entries(database: Database, saved: Saved) -> None:
    """Write the entries in their order, what others stated as theirs."""
    with database.writing() as connection:
        for received, entries in groupby(
            saved.entries, lambda it: saved.received.get(it.revision)
        ):
            if received is None:
                write_entries(connection, tuple(entries))
            else:
                write_entries(connection, tuple(entries), **vars(received))


def _fill_drafts(drafts: Drafts, saved: Saved) -> None:
    for draft in saved.drafts:
        drafts.begin(draft.draft_id, draft.about)
        for line in draft.touches:
            drafts.touch(draft.draft_id, line)
