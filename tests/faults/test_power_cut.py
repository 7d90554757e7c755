"""The power is cut at the moment of the acknowledgement: what was acknowledged is there.

A killed process shows nothing of this, the page cache outlives it. Here the disk is a file:
copied at that moment it is what a power cut leaves, and the copy is opened as after a start.
The same test without syncing must lose something, or it would show nothing.
"""

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TypeVar

import pytest

from fieldapp.store.drafts import Drafts
from fieldapp.store.engine import Database
from fieldapp.store.journal import ROLLBACK, WRITE_AHEAD, Journal
from fieldapp.store.opening import DATABASE, MARKER, opened
from sync.durable import write_once
from tests.faults.loop_disk import LoopDisk, loop_disk, mounted
from tests.made import entry

pytestmark = pytest.mark.slow

WHAT = "cutting the power on a real file system"
Found = TypeVar("Found")
TOUCHES = tuple(b"touch %d" % number for number in range(5))


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[LoopDisk]:
    with loop_disk(tmp_path, megabytes=16, what=WHAT) as made:
        yield made


@pytest.fixture
def after_a_cut(disk: LoopDisk, tmp_path: Path) -> Callable[[str], "Cut"]:
    return lambda name: Cut(disk.copied_to(tmp_path / f"{name}.img"), tmp_path / name)


class Cut:
    """The disk as it was at one moment, to be mounted later."""

    def __init__(self, image: Path, folder: Path) -> None:
        self.image = image
        self.folder = folder

    def seen(self, look: Callable[[Path], Found]) -> Found:
        with mounted(self.image, self.folder, what=WHAT) as folder:
            return look(folder)


AfterACut = Callable[[str], Cut]


def touches_in(folder: Path) -> tuple[bytes, ...]:
    with opened(folder) as store:
        return store.drafts.touches("d-1")


def number_lost(disk: LoopDisk, after_a_cut: AfterACut, journal: Journal) -> int:
    """Cut the power after each of five touches; count those that were acknowledged and lost."""
    opened(disk.folder).close()
    database = Database(disk.folder / DATABASE, journal)
    drafts = Drafts(database)
    drafts.begin("d-1", b"about")
    cuts = []
    for line in TOUCHES:
        drafts.touch("d-1", line)
        cuts.append(after_a_cut(f"after-{line.decode().replace(' ', '-')}"))
    database.close()
    found = [cut.seen(touches_in) for cut in cuts]
    return sum(kept != TOUCHES[:number] for number, kept in enumerate(found, start=1))


@pytest.mark.parametrize("journal", [ROLLBACK, WRITE_AHEAD], ids=lambda journal: journal.mode)
def test_every_acknowledged_touch_outlives_a_power_cut(
    disk: LoopDisk, after_a_cut: AfterACut, journal: Journal
) -> None:
    assert number_lost(disk, after_a_cut, journal) == 0


@pytest.mark.parametrize(
    "journal",
    [Journal("delete", "OFF"), Journal("delete", "FULL"), Journal("wal", "NORMAL")],
    ids=lambda journal: f"{journal.mode} {journal.synchronous}",
)
def test_with_less_syncing_this_test_sees_acknowledged_touches_go(
    disk: LoopDisk, after_a_cut: AfterACut, journal: Journal
) -> None:
    assert number_lost(disk, after_a_cut, journal) > 0


def test_what_was_signed_outlives_a_power_cut(disk: LoopDisk, after_a_cut: AfterACut) -> None:
    signed = (entry(1), entry(2, kind="sign_off"))
    with opened(disk.folder) as store:
        store.drafts.begin("d-1", b"about")
        store.drafts.finish("d-1", signed)
        signed_cut = after_a_cut("signed")
        names = store.sealing.seal()
        sealed_cut = after_a_cut("sealed")

    def entries_in(folder: Path) -> tuple[object, ...]:
        with opened(folder) as store:
            return tuple(store.ledger.all())

    def sealed_in(folder: Path) -> tuple[str, ...]:
        with opened(folder) as store:
            store.check()
            return tuple(name for name, _ in store.sealing.segments())

    assert signed_cut.seen(entries_in) == signed
    assert sealed_cut.seen(sealed_in) == names


def test_a_new_store_outlives_a_power_cut(disk: LoopDisk, after_a_cut: AfterACut) -> None:
    with opened(disk.folder) as store:
        store.ledger.add([entry(1)])
        cut = after_a_cut("new")

    def look(folder: Path) -> tuple[bool, int]:
        with opened(folder) as store:
            return (folder / MARKER).exists(), store.check().entries

    assert cut.seen(look) == (True, 1)


def test_a_file_written_once_outlives_a_power_cut_and_a_plain_one_does_not(
    disk: LoopDisk, after_a_cut: AfterACut
) -> None:
    write_once(disk.folder / "once.seg", b"once")
    (disk.folder / "plain.seg").write_bytes(b"plain")
    cut = after_a_cut("written")

    def look(folder: Path) -> tuple[bytes, bytes]:
        plain = folder / "plain.seg"
        return (folder / "once.seg").read_bytes(), plain.read_bytes() if plain.exists() else b""

    assert cut.seen(look) == (b"once", b"")
