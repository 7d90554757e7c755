"""How long one touch takes until it is on the disk, beside SQLite with nothing around it."""

import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from itertools import count
from pathlib import Path

from fieldapp.store import open_store
from fieldapp.store.journal import journal_for, pragmas
from tests.bench.ratio import Ratio, medians_s

BUDGET = 1.5
TIMES = 201
LINE = b'{"at":"2026-03-01T05:31:00Z","bolt":{"plate":"seated","position":7,"row":3}}'


def ratios() -> list[Ratio]:
    """Save touches in turn into our store and into a bare database on the same disk."""
    with (
        tempfile.TemporaryDirectory() as folder,
        _ours(Path(folder) / "ours") as ours,
        _bare(Path(folder) / "bare.db") as bare,
    ):
        ours_s, bare_s = medians_s(ours, bare, times=TIMES)
    return [
        Ratio(
            "save one touch, durable",
            "a bare sqlite3 commit with the same PRAGMAs",
            ours_s / bare_s,
            BUDGET,
            note=f"{ours_s * 1000:.2f} ms beside {bare_s * 1000:.2f} ms",
        )
    ]


@contextmanager
def _ours(folder: Path) -> Iterator[Callable[[], object]]:
    with open_store(folder) as store:
        store.drafts.begin("d-1", b"about")
        yield lambda: store.drafts.touch("d-1", LINE)


@contextmanager
def _bare(path: Path) -> Iterator[Callable[[], object]]:
    numbers = count()
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        for setting in pragmas(journal_for(sqlite3.sqlite_version_info)):
            connection.execute(setting)
        connection.execute("CREATE TABLE touch (number INTEGER PRIMARY KEY, line BLOB)")

        def commit() -> None:
            connection.execute("BEGIN IMMEDIATE")
            connection.execute("INSERT INTO touch VALUES (?, ?)", (next(numbers), LINE))
            connection.execute("COMMIT")

        yield commit
