"""How long it takes to take in what others sealed, verified, beside SQLite with nothing around."""

import sqlite3
import tempfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, contextmanager
from pathlib import Path

from fieldapp.store.journal import journal_for, pragmas
from schemas.canonical import JsonValue
from schemas.entry import Entry
from sync.segment import MOST_ENTRIES, Segment, open_segment
from tests.bench.ratio import Ratio, medians_s
from tests.made import entry
from tests.share.disk_tablet import DiskTablet
from tests.share.strangers import TRUST, Sealed, Stranger, enrolled, say

BUDGET = 3.0
TIMES = 9
SEGMENTS = 5
"""So many of 200 entries each are taken in at once: 1,000 entries."""

Batch = Sequence[Sealed]


def ratios() -> list[Ratio]:
    """Take in 1,000 entries at a time, and write as many lines into bare tables."""
    stranger = Stranger(100)
    batches = [_batch(stranger, number) for number in range(TIMES)]
    with (
        tempfile.TemporaryDirectory() as folder,
        _ours(Path(folder) / "ours", stranger, batches) as ours,
        _bare(Path(folder) / "one.db", batches, indexes=0) as bare,
        _bare(Path(folder) / "all.db", batches, indexes=len(_INDEXES)) as indexed,
    ):
        ours_s, bare_s, indexed_s = medians_s(ours, bare, indexed, times=TIMES)
    return [
        _ratio("a bare sqlite3 insert, a commit a segment", ours_s, bare_s),
        _ratio("the same into a table with our columns and indexes", ours_s, indexed_s),
    ]


def _ratio(beside: str, ours_s: float, bare_s: float) -> Ratio:
    return Ratio(
        "take in 1,000 entries, verified",
        beside,
        ours_s / bare_s,
        BUDGET,
        note=f"{ours_s * 1000:.1f} ms beside {bare_s * 1000:.1f} ms",
    )


def _batch(stranger: Stranger, number: int) -> Batch:
    first = number * SEGMENTS * MOST_ENTRIES
    starts = range(first, first + SEGMENTS * MOST_ENTRIES, MOST_ENTRIES)
    return [
        stranger.seals(*(_made(it) for it in range(start, start + MOST_ENTRIES)))
        for start in starts
    ]


def _made(number: int) -> Entry:
    rows: list[JsonValue] = [{"row": it, "spacing_m": "1.20"} for it in range(6)]
    names: dict[str, JsonValue] = {"heading": f"heading {number % 20}", "round": f"{number // 9}"}
    return entry(number, {**names, "chainage_m": "1380.40", "note": "x" * 200, "rows": rows})


@contextmanager
def _ours(
    folder: Path, stranger: Stranger, batches: Sequence[Batch]
) -> Iterator[Callable[[], object]]:
    tablet, waiting = DiskTablet(folder, TRUST), iter(batches)
    say(tablet, enrolled(stranger.key))
    tablet.keep_identity(stranger.identity)

    def take() -> None:
        for sealed, name in next(waiting):
            key = stranger.identity.public_key
            tablet.take_in(open_segment(name.file, sealed.content, public_key=key), name)

    yield take
    tablet.close()


_COLUMNS = "revision, kind, thing_id, made_at, clock, line, heading, round, origin, counts"
_INDEXES = (
    "kind",
    "thing_id, heading, counts",
    "made_at",
    "heading, revision, counts",
    "round",
    "clock, origin, counts",
)


@contextmanager
def _bare(path: Path, batches: Sequence[Batch], *, indexes: int) -> Iterator[Callable[[], object]]:
    rows = iter([[_columns(it) for it, _ in batch] for batch in batches])
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        for setting in pragmas(journal_for(sqlite3.sqlite_version_info)):
            connection.execute(setting)
        connection.execute(f"CREATE TABLE entry (number INTEGER PRIMARY KEY, {_COLUMNS})")
        connection.execute("CREATE UNIQUE INDEX entry_revision ON entry (revision)")
        for number, columns in enumerate(_INDEXES[:indexes]):
            connection.execute(f"CREATE INDEX entry_{number} ON entry ({columns})")
        insert = f"INSERT INTO entry ({_COLUMNS}) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"  # noqa: S608

        def commit() -> None:
            for some in next(rows):
                connection.execute("BEGIN IMMEDIATE")
                connection.executemany(insert, some)
                connection.execute("COMMIT")

        yield commit


def _columns(segment: Segment) -> list[tuple[object, ...]]:
    return [
        (
            it.revision,
            it.kind,
            it.id,
            it.made_at.isoformat(),
            str(it.clock),
            it.line,
            it.body["heading"],
            it.body["round"],
            segment.header.tablet,
            1,
        )
        for it in segment.entries
    ]
