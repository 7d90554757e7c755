"""The disk fills up: said clearly, nothing lost, and it goes on once there is room again."""

from collections.abc import Callable, Iterator
from io import FileIO
from itertools import count
from pathlib import Path

import pytest

from fieldapp.store import Store, open_store
from sync.durable import DiskFull, write_once
from tests.faults.loop_disk import LoopDisk, loop_disk
from tests.made import entry

WHAT = "filling a real disk"
MANY = tuple(entry(number, {"note": "x" * 2000}) for number in range(300))


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[LoopDisk]:
    with loop_disk(tmp_path, megabytes=4, what=WHAT) as made:
        yield made


@pytest.fixture
def store(disk: LoopDisk) -> Iterator[Store]:
    with open_store(disk.folder / "home") as opened:
        opened.keys.tablet()
        opened.drafts.begin("d-1", b"about")
        yield opened


def fill(disk: LoopDisk, *, leave_bytes: int = 0) -> Path:
    """Fill the disk to its last byte, but for what is to be left."""
    spare = disk.folder / "spare"
    spare.write_bytes(bytes(leave_bytes))
    filler = disk.folder / "filler"
    with filler.open("wb", buffering=0) as file, pytest.raises(OSError, match="No space left"):
        write_for_ever(file)
    spare.unlink()
    return filler


def write_for_ever(file: FileIO) -> None:
    while file.write(bytes(1024)):
        pass


def until_full(step: Callable[[int], object]) -> int:
    """Repeat a step until the disk is full; give how many were taken."""
    for taken in count():
        try:
            step(taken)
        except DiskFull:
            return taken
    raise AssertionError("there is no end to this disk")


@pytest.mark.parametrize("leave_bytes", [0, 4096, 20_000, 60_000])
def test_a_touch_on_a_full_disk_is_refused_and_the_others_are_there(
    disk: LoopDisk, store: Store, leave_bytes: int
) -> None:
    store.drafts.touch("d-1", b"first")
    filler = fill(disk, leave_bytes=leave_bytes)
    lines = tuple(b"%04d" % number + b"x" * 1000 for number in range(400))

    taken = until_full(lambda number: store.drafts.touch("d-1", lines[number]))

    assert store.drafts.touches("d-1") == (b"first", *lines[:taken])
    filler.unlink()
    store.drafts.touch("d-1", b"last")
    assert store.drafts.touches("d-1") == (b"first", *lines[:taken], b"last")
    store.check()


def test_signing_on_a_full_disk_leaves_the_draft_open(disk: LoopDisk, store: Store) -> None:
    store.drafts.touch("d-1", b"first")
    filler = fill(disk)

    with pytest.raises(DiskFull):
        store.drafts.finish("d-1", MANY)

    assert list(store.ledger.all()) == []
    assert store.drafts.touches("d-1") == (b"first",)
    filler.unlink()
    store.drafts.finish("d-1", MANY)
    assert tuple(store.ledger.all()) == MANY


def test_sealing_on_a_full_disk_seals_nothing(disk: LoopDisk, store: Store) -> None:
    store.ledger.add(MANY)
    filler = fill(disk)

    with pytest.raises(DiskFull):
        store.sealing.seal()

    assert store.check().waiting == len(MANY)
    filler.unlink()
    store.sealing.seal()
    assert store.check().waiting == 0


def test_the_store_opens_on_a_full_disk_so_that_it_can_be_read(
    disk: LoopDisk, store: Store
) -> None:
    store.ledger.add(MANY[:3])
    store.close()
    fill(disk)

    with open_store(disk.folder / "home") as again:
        assert tuple(again.ledger.all()) == MANY[:3]


def test_a_first_start_on_a_full_disk_is_told_and_works_later(disk: LoopDisk) -> None:
    filler = fill(disk)

    with pytest.raises(DiskFull):
        open_store(disk.folder / "new")

    filler.unlink()
    with open_store(disk.folder / "new") as store:
        store.ledger.add(MANY[:3])


def test_a_file_that_does_not_fit_leaves_nothing_behind(disk: LoopDisk) -> None:
    fill(disk, leave_bytes=8192)
    before = {path.name for path in disk.folder.iterdir()}

    with pytest.raises(OSError, match="No space left"):
        write_once(disk.folder / "big.seg", bytes(1_000_000))

    assert {path.name for path in disk.folder.iterdir()} == before
