"""What sharing costs beside the usual ways to carry files: on one disk, in turns, in one run.

Each time into an empty place: what is there already costs nobody anything.
"""

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from itertools import count
from pathlib import Path

from schemas.entry import Entry
from sync.exchange import exchange
from sync.folder import Folder
from sync.holdings import Holdings
from sync.local_folder import LocalFolder
from sync.meeting import Meeting
from sync.names import ROOT, STORE
from tests.bench.ratio import Ratio, medians_s
from tests.made import entry
from tests.share.counted_folder import CountedFolder
from tests.share.disk_tablet import DiskTablet
from tests.share.holdings import ListHoldings
from tests.share.mine import STORE_JSON, TRUST
from tests.share.strangers import enrolled, say

ENTRIES, TABLETS, OTHERS_FILES = 1000, 200, 100_000
PHOTOS, PHOTO_BYTES = 20, 4 * 1024 * 1024
TIMES = 7
SLOW_S = 0.01
"""What a weak network adds to each operation."""

_numbers = count(1)


def ratios() -> list[Ratio]:
    """Publish entries and photos, and look where nothing is new."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        return [*_published(place), *_nothing_new(place), *_photos(place)]


# --- 1,000 entries ------------------------------------------------------------------------------


def _published(place: Path) -> Iterator[Ratio]:
    entries = [_made(number) for number in range(ENTRIES)]
    source = _new(place)
    for number, it in enumerate(entries):
        (source / f"{number:06}.json").write_bytes(it.line)
    tablets = iter([_tablet_with(place, entries) for _ in range(TIMES)])
    ours_s, rsync_s, git_s, cp_s = medians_s(
        lambda: _publish(next(tablets), LocalFolder(_share(place))),
        lambda: _run("rsync", "-a", "--fsync", f"{source}/", f"{_new(place)}/"),
        lambda: _git_push(place, source),
        lambda: _run("cp", "-r", source, _new(place)),
        times=TIMES,
    )
    what = "publish 1,000 entries, durable"
    note = f"{ours_s * 1000:.0f} ms"
    yield Ratio(what, "rsync -a --fsync", rsync_s / ours_s, 8, sense="at least", note=note)
    yield Ratio(what, "git add, commit, push", git_s / ours_s, 5, sense="at least")
    yield Ratio(what, "cp -r, which waits for no disk", ours_s / cp_s, 2.5)
    folder = CountedFolder(LocalFolder(_share(place)), delay_s=SLOW_S)
    slow = _tablet_with(place, entries)
    _publish(slow, folder)
    beside = f"one operation a file of {ENTRIES}"
    yield Ratio(
        what, beside, ENTRIES / folder.count.total, 8, sense="at least", note=_slow(folder)
    )


def _slow(folder: CountedFolder) -> str:
    counted = folder.count.total
    return f"{counted} operations, {counted * SLOW_S * 1000:.0f} ms of waiting at 10 ms each"


def _made(number: int) -> Entry:
    return entry(number, {"heading": f"heading {number % 20}", "note": "x" * 1100})


def _tablet_with(place: Path, entries: list[Entry]) -> DiskTablet:
    tablet = DiskTablet(_new(place), TRUST)
    tablet.store.ledger.add(entries)
    return tablet


def _publish(tablet: DiskTablet, folder: Folder) -> None:
    outcome = exchange(Meeting(folder, tablet))
    assert len(outcome.sent) >= ENTRIES // 200


def _git_push(place: Path, source: Path) -> None:
    bare, work = _new(place), _new(place)
    _git(bare, "init", "-q", "--bare")
    _git(work, "init", "-q")
    shutil.copytree(source, work / "entries")
    _git(work, "add", "-A")
    _git(work, "-c", "user.name=b", "-c", "user.email=b@b", "commit", "-qm", "entries")
    _git(work, "push", "-q", bare, "HEAD:refs/heads/main")


def _git(at: Path, *words: str | Path) -> None:
    _run("git", "-C", at, *words)


# --- nothing new --------------------------------------------------------------------------------


def _nothing_new(place: Path) -> Iterator[Ratio]:
    share = _share(place)
    tablet = DiskTablet(_new(place), TRUST)
    _exchange(share, tablet)
    for number in range(TABLETS):
        other = ListHoldings(number + 1000, TRUST)
        say(tablet, enrolled(other.tablet_key()))
        other.state_something()
        _exchange(share, other)
    for _ in range(3):
        _exchange(share, tablet)
    files, copy = _many_files(place), _new(place)
    _run("rsync", "-a", f"{files}/", f"{copy}/")
    folder = CountedFolder(LocalFolder(share))
    slow = CountedFolder(LocalFolder(share), delay_s=SLOW_S)
    ours_s, slow_s, rsync_s = medians_s(
        lambda: exchange(Meeting(folder, tablet)),
        lambda: exchange(Meeting(slow, tablet)),
        lambda: _run("rsync", "-a", f"{files}/", f"{copy}/"),
        times=TIMES,
    )
    tablet.close()
    what = "exchange with nothing new, 200 tablets"
    note = f"{ours_s * 1000:.1f} ms beside {rsync_s * 1000:.0f} ms"
    beside = "rsync -a of 100,000 files"
    yield Ratio(what, beside, rsync_s / ours_s, 100, sense="at least", note=note)
    waiting = f"{slow_s * 1000:.0f} ms at 10 ms an operation"
    counted = folder.count.total / TIMES
    yield Ratio(what, "one operation on the folder", counted, 3, note=waiting)


def _exchange(share: Path, holdings: Holdings) -> None:
    exchange(Meeting(LocalFolder(share), holdings))


def _many_files(place: Path) -> Path:
    root = _new(place)
    for shard in range(100):
        (root / f"{shard:02}").mkdir()
        for number in range(OTHERS_FILES // 100):
            (root / f"{shard:02}" / f"{number:04}.json").write_bytes(b"{}")
    return root


# --- photos -------------------------------------------------------------------------------------


def _photos(place: Path) -> Iterator[Ratio]:
    source = _new(place)
    for number in range(PHOTOS):
        (source / f"{number}.jpg").write_bytes(os.urandom(PHOTO_BYTES))
    contents = [path.read_bytes() for path in sorted(source.iterdir())]

    def ours() -> None:
        folder = LocalFolder(_share(place))
        for number, content in enumerate(contents):
            folder.put(f"photos/203105/aa/{number}.jpg", content)

    def copied() -> None:
        target = _new(place)
        for path in source.iterdir():
            shutil.copy(path, target)
            with (target / path.name).open("rb") as file:
                os.fsync(file.fileno())

    ours_s, cp_s = medians_s(ours, copied, times=TIMES)
    note = f"{ours_s * 1000:.0f} ms"
    yield Ratio(
        "publish 20 photos of 4 MB, durable", "cp, fsync each", ours_s / cp_s, 2, note=note
    )


# --- places -------------------------------------------------------------------------------------


def _new(place: Path) -> Path:
    folder = place / f"{next(_numbers):06}"
    folder.mkdir()
    return folder


def _share(place: Path) -> Path:
    share = _new(place)
    (share / ROOT).mkdir()
    (share / ROOT / STORE).write_bytes(STORE_JSON)
    return share


def _run(*command: str | Path) -> None:
    subprocess.run(command, check=True, capture_output=True)  # noqa: S603
