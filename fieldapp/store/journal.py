"""How SQLite has to be run so that a commit is on the disk, and nothing else is risked."""

from dataclasses import dataclass

APPLICATION_ID = 0x4C526F77
"""The letters "LRow" in the database's header: the file is one of ours."""

BUSY_TIMEOUT_MS = 10_000

_FIXED_FROM = (3, 51, 3)
_FIXED_BRANCHES = (((3, 50, 7), (3, 51)), ((3, 44, 6), (3, 45)))
_WITHDRAWN = (3, 52, 0)

Version = tuple[int, int, int]


@dataclass(frozen=True)
class Journal:
    """A journal mode, and how hard each commit is pressed onto the disk."""

    mode: str
    synchronous: str


WRITE_AHEAD = Journal("wal", "FULL")
ROLLBACK = Journal("delete", "EXTRA")


def journal_for(version: Version) -> Journal:
    """Choose the journal by SQLite's version.

    The write-ahead log is quicker, but from 3.7.0 to 3.51.2 two connections around a
    checkpoint could damage it (sqlite.org/wal.html, "the WAL-reset bug"). There the rollback
    journal is used; EXTRA also syncs the folder after the journal's end, without which a
    commit that was answered can be rolled back by a power cut.
    """
    if version == _WITHDRAWN:
        return ROLLBACK
    in_fixed_branch = any(first <= version < end for first, end in _FIXED_BRANCHES)
    return WRITE_AHEAD if version >= _FIXED_FROM or in_fixed_branch else ROLLBACK


AT_CREATION = "PRAGMA auto_vacuum = INCREMENTAL"
"""Asked of an empty file only: on any other it would write."""


def pragmas(journal: Journal, waits_ms: int = BUSY_TIMEOUT_MS) -> tuple[str, ...]:
    """Give the PRAGMAs of every connection, in order; they don't work inside a transaction."""
    return (
        f"PRAGMA busy_timeout = {waits_ms}",
        f"PRAGMA journal_mode = {journal.mode}",
        f"PRAGMA synchronous = {journal.synchronous}",
        "PRAGMA foreign_keys = ON",
        "PRAGMA trusted_schema = OFF",
        "PRAGMA cell_size_check = ON",
        "PRAGMA mmap_size = 0",
        "PRAGMA temp_store = MEMORY",
        f"PRAGMA journal_size_limit = {16 * 1024 * 1024}",
        "PRAGMA wal_autocheckpoint = 1000",
    )
