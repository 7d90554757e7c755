"""What a child collates until it is killed, and how what is left is looked at."""

from collections.abc import Callable
from importlib import import_module
from pathlib import Path

from fieldapp.work.demo.story import MAIN
from schemas.canonical import revision_of
from sync.segment import lines_of
from tests.office import ask, column, demo_share, everything, fill, same

Acknowledge = Callable[[str], object]

SHARE, ADDRESS = "share", "address"
LOADED_LATE = (
    "fieldapp.store.alembic_run",
    "fieldapp.store.office.addresses",
    "fieldapp.store.office.file",
    "fieldapp.store.office.indexes",
    "fieldapp.store.office.postgres",
    "fieldapp.store.office.versions",
    "scipy.optimize",
    "scipy.spatial",
)
KEPT = (
    "SELECT revision, kind, thing_id, made_at, clock, line, heading, round, origin, counts "
    "FROM kept_entry",
    "SELECT parent, child FROM entry_parent",
    "SELECT tablet, seq, hash16, before16, size, only_receipts, counts, content "
    "FROM share_segment",
    "SELECT tablet, content FROM certificate",
    "SELECT store, root_keys FROM pairing",
    "SELECT number, hash16, content FROM trust_record",
)
"""Everything that is not worked out, without the numbers that differ where a step was undone."""


def collate(folder: Path, acknowledge: Acknowledge) -> None:
    """Fill the database that the folder names from the share that lies in it."""
    fill(address_in(folder), folder / SHARE)
    acknowledge("filled")


def warm() -> None:
    """Load what collating loads late: a child that loads it for half its life is killed there."""
    for name in LOADED_LATE:
        import_module(name)


def with_share(folder: Path) -> Path:
    """Make the folder from which every child starts: a share with one heading of the demo mine."""
    demo_share(folder / SHARE, of=MAIN, in_one=6)
    return folder


def in_a_file(folder: Path) -> None:
    """Let a folder's database be a file in it."""
    (folder / ADDRESS).write_text(f"sqlite:///{folder}/office.db")


def address_in(folder: Path) -> str:
    """Give the address of the database that a folder names."""
    return (folder / ADDRESS).read_text()


def all_kept(address: str) -> list[object]:
    """Give everything that a database holds, in an order of its own."""
    return [*(same(ask(address, query).rows) for query in KEPT), everything(address)]


def half_a_segment(address: str) -> set[str]:
    """Give the entries of held segments that are missing; none unless a segment came in half."""
    held = column(address, "SELECT content FROM share_segment")
    sealed = {revision_of(line) for content in held for line in lines_of(bytes(content))}
    return sealed - set(column(address, "SELECT revision FROM kept_entry"))
