"""How long it takes to collate a share, verified, beside the same rows written by a script.

Bare is what a script does that has the rows in its hands: `executemany` into SQLite, `COPY` into
PostgreSQL, a commit a segment, then the same indexes. It reads no file and no JSON, verifies no
signature and no hash, looks for nothing that is there already, and keeps no segment.

What reports ask for is worked out afterwards and is not compared: nothing bare does it.
"""

import sqlite3
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing
from itertools import count
from pathlib import Path
from typing import Any

import psycopg

from fieldapp.store.office import open_office
from fieldapp.store.office.file import WHILE_ALONE
from fieldapp.store.office.indexes import INDEXES
from fieldapp.store.office.office_ledger import LEDGER
from fieldapp.work.collating import Keys, collate_share
from schemas.canonical import JsonValue
from schemas.entry import Entry
from sync.labels import label_of
from sync.places import open_folder
from sync.segment import MOST_ENTRIES
from tests.bench.ratio import Ratio, medians_s
from tests.made import entry
from tests.office import Share
from tests.postgres import Postgres, postgres
from tests.share.strangers import Stranger

ENTRIES = 100_000
TIMES = 7
BUDGET = 3.0
WHAT = f"collate {ENTRIES:,} entries, verified"
COLUMNS = (
    "revision", "kind", "thing_id", "made_at", "clock", "heading", "round", "line", "origin",
    "counts",
)  # fmt: skip
TABLE = (
    "revision TEXT NOT NULL UNIQUE, kind TEXT NOT NULL, thing_id TEXT NOT NULL, "
    "made_at TEXT NOT NULL, clock TEXT NOT NULL, heading TEXT, round TEXT, {bytes} NOT NULL, "
    "origin TEXT, counts BOOLEAN NOT NULL"
)

Row = tuple[Any, ...]
Segments = Sequence[Sequence[Row]]
_numbers = count(1)


def ratios() -> list[Ratio]:
    """Collate a share into new databases, and write as many rows into bare ones."""
    with tempfile.TemporaryDirectory() as folder, postgres(quick=False) as server:
        share = Share(Path(folder) / "share")
        rows = _fill(share)
        return [
            _into_a_file(Path(folder), share, rows),
            _into_a_server(server, share, rows),
        ]


def _fill(share: Share) -> Segments:
    """Seal the entries into a share, and give the rows that they come to, a segment each."""
    tablet = Stranger(1)
    share.enrol(tablet)
    found = []
    for start in range(0, ENTRIES, MOST_ENTRIES):
        made = [_made(number) for number in range(start, start + MOST_ENTRIES)]
        share.seal(tablet, *made)
        found.append([(*label_of(it)[:-1], it.line, tablet.id, True) for it in made])
    return found


def _made(number: int) -> Entry:
    rows: list[JsonValue] = [{"row": it, "spacing_m": "1.20"} for it in range(6)]
    names: dict[str, JsonValue] = {"heading": f"heading {number % 60}", "round": f"{number // 9}"}
    return entry(number, {**names, "chainage_m": "1380.40", "note": "x" * 200, "rows": rows})


def _collated(share: Share, address: str) -> None:
    with open_office(address) as office:
        came_in = collate_share(office, open_folder(str(share.place)), Keys()).outcome
    assert came_in.entries_received == ENTRIES


# --- SQLite -------------------------------------------------------------------------------------


def _into_a_file(folder: Path, share: Share, rows: Segments) -> Ratio:
    def ours() -> None:
        path = folder / f"{next(_numbers)}.db"
        _collated(share, f"sqlite:///{path}")
        path.unlink()

    def bare() -> None:
        path = folder / f"{next(_numbers)}.db"
        _executemany(path, rows)
        path.unlink()

    return _ratio("executemany into SQLite, a commit a segment", ours, bare)


def _executemany(path: Path, rows: Segments) -> None:
    places = ", ".join("?" * len(COLUMNS))
    insert = f"INSERT INTO {LEDGER} ({', '.join(COLUMNS)}) VALUES ({places})"  # noqa: S608
    with closing(sqlite3.connect(path, isolation_level=None)) as file:
        for setting in WHILE_ALONE:
            file.execute(setting)
        file.execute(f"CREATE TABLE {LEDGER} (sequence INTEGER PRIMARY KEY, {_table('BLOB')})")
        for some in rows:
            file.execute("BEGIN IMMEDIATE")
            file.executemany(insert, some)
            file.execute("COMMIT")
        for statement in _indexes():
            file.execute(statement)


# --- PostgreSQL ---------------------------------------------------------------------------------


def _into_a_server(server: Postgres, share: Share, rows: Segments) -> Ratio:
    def ours() -> None:
        _collated(share, address := server.new_database())
        server.drop(address)

    def bare() -> None:
        _copy(server.words(address := server.new_database()), rows)
        server.drop(address)

    return _ratio("COPY into PostgreSQL, a commit a segment", ours, bare)


def _copy(words: str, rows: Segments) -> None:
    copied = f"COPY {LEDGER} ({', '.join(COLUMNS)}) FROM STDIN".encode()
    table = f"(sequence BIGSERIAL PRIMARY KEY, {_table('BYTEA')})"
    with psycopg.connect(words) as connection:
        connection.execute(f"CREATE TABLE {LEDGER} {table}".encode())
        for some in rows:
            with connection.cursor() as cursor, cursor.copy(copied) as copy:
                for row in some:
                    copy.write_row(row)
            connection.commit()
        for statement in _indexes():
            connection.execute(statement.encode())


def _table(of_bytes: str) -> str:
    return TABLE.format(bytes=f"line {of_bytes}")


def _indexes() -> Iterator[str]:
    return (f"CREATE INDEX {name} ON {columns}" for name, columns in INDEXES.items())


def _ratio(beside: str, ours: Callable[[], object], bare: Callable[[], object]) -> Ratio:
    ours_s, bare_s = medians_s(ours, bare, times=TIMES)
    note = f"{ours_s:.1f} s beside {bare_s:.1f} s"
    return Ratio(WHAT, beside, ours_s / bare_s, BUDGET, note=note)
