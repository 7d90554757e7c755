"""What can happen to whoever writes in a share, one by one, on a real directory: disks that are
full or can't be written, renames that are blocked, folders that go and come.
"""

import errno
import os
import subprocess
import time
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

import pytest

import sync.durable
from sync.folder import Listed, ShareGone
from sync.local_folder import LocalFolder
from sync.names import ROOT, STORE
from sync.share_identity import AnotherShare, NoShareHere
from sync.trust import Trust
from tests.faults.loop_disk import LoopDisk, loop_disk
from tests.faults.share_at_hand import HOUR_S, AtHand, Watched, sealed_by, share_at_hand
from tests.faults.test_disk_full import fill
from tests.share.holdings import ListHoldings

SEGMENT, TEMPORARY = ".seg", ".tmp"


@pytest.fixture
def at(tmp_path: Path) -> AtHand:
    return share_at_hand(tmp_path)


@pytest.fixture
def small(tmp_path: Path) -> Iterator[LoopDisk]:
    with loop_disk(tmp_path, megabytes=4, what="filling a real share") as made:
        yield made


def test_a_full_share_leaves_no_half_file_keeps_the_queue_and_is_read_all_the_same(
    small: LoopDisk,
) -> None:
    at = share_at_hand(small.folder)
    theirs = at.other.state_something()
    at.met(at.other)
    filler = fill(small)
    ours = at.one.state_something()

    told = at.met(at.one)

    assert "no room" in told.only_read
    assert theirs in at.one.entries
    assert not at.files(TEMPORARY)
    filler.unlink()
    at.met(at.one)
    at.met(at.other)
    assert ours in at.other.entries


def test_bytes_that_go_missing_without_an_error_are_noticed_by_the_size(
    at: AtHand, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As some file systems do where there is no room: fewer bytes are written than were asked."""
    at.one.state_something()
    at.met(at.one)
    at.one.state_something()
    with monkeypatch.context() as patch:
        patch.setattr(sync.durable, "_write_through", _cut(sync.durable._write_through))
        told = at.met(at.one)

    assert "no room" in told.only_read
    assert not at.files(TEMPORARY)
    assert all(it.stat().st_size for it in at.segments())
    at.met(at.one, HOUR_S)
    assert at.met(at.other, HOUR_S).entries_received == 2


def _cut(write_through: Callable[[Path, bytes], None]) -> Callable[[Path, bytes], None]:
    """Have the last byte of a file go missing between writing and looking."""

    class Short(bytes):
        def __len__(self) -> int:
            return super().__len__() + 1

    return lambda part, content: write_through(part, Short(content))


def test_a_quota_that_is_used_up_is_a_full_share(
    at: AtHand, monkeypatch: pytest.MonkeyPatch
) -> None:
    at.one.state_something()
    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", _fails_with(errno.EDQUOT))
        told = at.met(at.one)

    assert "no room" in told.only_read
    assert at.met(at.one).sent


def test_a_file_that_is_too_large_for_the_share_waits_and_others_go_on(at: AtHand) -> None:
    resource = pytest.importorskip("resource", reason="limits on files are a matter of POSIX")
    at.one.state_something()
    at.met(at.one)
    at.one.state_something(body={"note": os.urandom(40_000).hex()})
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (16_000, hard))
    try:
        told = at.met(at.one)
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))

    large = sealed_by(at.one)[-1]
    assert told.waiting == [large.path, large.path]
    assert not told.only_read
    assert not at.files(TEMPORARY)
    at.met(at.one)
    assert at.file(large.path).exists()


def test_a_failed_sync_is_not_believed_later_and_a_new_file_is_written(
    at: AtHand, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After an error the pages count as clean: a second fsync would succeed and mean nothing."""
    at.met(at.one)
    at.one.state_something()
    synced: list[tuple[int, int]] = []
    sync_file = os.fsync

    def fails_once(descriptor: int) -> None:
        synced.append((os.fstat(descriptor).st_ino, descriptor))
        if len(synced) == 1:
            raise OSError(errno.EIO, "input/output error")
        sync_file(descriptor)

    monkeypatch.setattr(os, "fsync", fails_once)
    at.met(at.one)

    assert len(sealed_by(at.one)) == len(at.segments())
    assert not at.files(TEMPORARY)
    assert at.met(at.other).entries_received == 1


def test_a_sync_that_always_fails_leaves_everything_waiting(
    at: AtHand, monkeypatch: pytest.MonkeyPatch
) -> None:
    at.one.state_something()
    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", _fails_with(errno.EIO))
        told = at.met(at.one)

    assert "fails" in told.only_read
    assert not told.sent
    assert not at.one.published()
    assert not at.files(TEMPORARY)
    assert at.met(at.one).sent


def test_an_error_while_closing_is_a_failed_write(
    at: AtHand, monkeypatch: pytest.MonkeyPatch
) -> None:
    at.one.state_something()
    write_through = sync.durable._write_through

    def closes_badly(part: Path, content: bytes) -> None:
        write_through(part, content)
        raise OSError(errno.EIO, "while closing")

    with monkeypatch.context() as patch:
        patch.setattr(sync.durable, "_write_through", closes_badly)
        told = at.met(at.one)

    assert not told.sent
    assert not at.files(TEMPORARY)
    assert at.met(at.one).sent


def test_a_rename_that_failed_though_it_happened_is_success(
    at: AtHand, monkeypatch: pytest.MonkeyPatch
) -> None:
    at.one.state_something()
    rename = os.replace

    def answered_late(*names: str) -> None:
        rename(*names)
        raise OSError(errno.ENOENT, "no such file")

    monkeypatch.setattr(os, "replace", answered_late)
    told = at.met(at.one)

    assert told.sent
    assert not told.waiting


def test_a_rename_that_a_scanner_blocks_for_a_moment_is_tried_again(
    at: AtHand, monkeypatch: pytest.MonkeyPatch
) -> None:
    at.one.state_something()
    monkeypatch.setattr(time, "sleep", lambda _s: None)
    monkeypatch.setattr(os, "replace", _held_open(os.replace, SEGMENT, times=3))

    told = at.met(at.one)

    assert told.sent
    assert not told.waiting


def test_a_rename_that_a_scanner_blocks_for_ever_waits_and_other_files_go_on(
    at: AtHand, monkeypatch: pytest.MonkeyPatch
) -> None:
    at.one.state_something()
    at.one.seal()
    first = sealed_by(at.one)[0]
    later = at.one.state_something()
    monkeypatch.setattr(time, "sleep", lambda _s: None)
    with monkeypatch.context() as patch:
        patch.setattr(os, "replace", _held_open(os.replace, first.file, times=1000))
        told = at.met(at.one)

    assert first.path in told.waiting
    assert told.sent == sealed_by(at.one)[1:]
    at.met(at.other)
    assert later in at.other.entries
    at.met(at.one)
    assert at.met(at.other).entries_received == 1


def test_a_file_that_is_there_with_the_same_bytes_is_success(at: AtHand) -> None:
    at.one.state_something()
    at.one.seal()
    name = sealed_by(at.one)[0]
    content = at.one.content(name)
    assert content
    LocalFolder(at.place).put(name.path, content)
    before = at.file(name.path).stat()

    assert at.met(at.one).sent == [name]

    after = at.file(name.path).stat()
    assert (after.st_ino, after.st_mtime_ns) == (before.st_ino, before.st_mtime_ns)


def test_a_file_that_is_there_with_other_bytes_is_torn_and_put_again(at: AtHand) -> None:
    at.one.state_something()
    at.one.seal()
    name = sealed_by(at.one)[0]
    at.file(name.path).parent.mkdir(parents=True)
    at.file(name.path).write_bytes(b"something else")

    at.met(at.one)

    assert at.file(name.path).read_bytes() == at.one.content(name)


def test_a_share_that_may_only_be_read_is_read_and_the_folder_is_named(small: LoopDisk) -> None:
    at = share_at_hand(small.folder)
    theirs = at.other.state_something()
    at.met(at.other)
    ours = at.one.state_something()
    remount(small, "ro")
    try:
        told = at.met(at.one, deep=True)
    finally:
        remount(small, "rw")

    assert str(small.folder / ROOT / "tablets") in told.only_read
    assert theirs in at.one.entries
    at.met(at.one)
    at.met(at.other)
    assert ours in at.other.entries


def remount(disk: LoopDisk, how: str) -> None:
    command = ["mount", "-o", f"remount,{how}", str(disk.folder)]
    subprocess.run(command, check=True)  # noqa: S603


def test_a_share_that_goes_in_between_gets_nothing_written_in_its_empty_place(
    at: AtHand, tmp_path: Path
) -> None:
    said = at.one.state_something()
    root, away = tmp_path / ROOT, tmp_path / "away"

    class Unplugged(Watched):
        def listing(self, path: str) -> Iterable[Listed]:
            found = list(super().listing(path))
            if root.exists():
                root.rename(away)
            return found

    with pytest.raises(ShareGone):
        at.met(at.one, folder=Unplugged(LocalFolder(at.place)))

    assert not root.exists()
    with pytest.raises(NoShareHere):
        at.met(at.one)
    away.rename(root)
    at.met(at.one)
    at.met(at.other)
    assert said in at.other.entries


def test_the_wrong_share_is_refused_and_both_are_named(at: AtHand) -> None:
    elsewhere = Trust(at.one.trust().store[:-1] + "2", at.one.trust().root_keys)
    stranger = ListHoldings(3, elsewhere)
    stranger.state_something()
    before = at.files()

    with pytest.raises(AnotherShare) as refused:
        at.met(stranger)

    assert elsewhere.store in str(refused.value)
    assert at.one.trust().store in str(refused.value)
    assert at.files() == before


@pytest.mark.parametrize("torn", [b"", bytes(300), b'{"lastrow": 1', None])
def test_a_torn_store_json_is_no_share_to_write_in(at: AtHand, torn: bytes | None) -> None:
    said = at.one.state_something()
    whole = at.file(STORE).read_bytes()
    if torn is None:
        at.file(STORE).unlink()
    else:
        at.file(STORE).write_bytes(torn)

    with pytest.raises(NoShareHere):
        at.met(at.one)
    assert not at.segments()

    at.file(STORE).write_bytes(whole)
    at.met(at.one)
    at.met(at.other)
    assert said in at.other.entries


def _fails_with(number: int) -> Callable[..., None]:
    def fails(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    return fails


def _held_open(
    rename: Callable[[Path, Path], None], ending: str, *, times: int
) -> Callable[[Path, Path], None]:
    """Refuse to rename as a system does whose scanner holds the file."""
    left = [times]

    def held(part: Path, path: Path) -> None:
        if path.name.endswith(ending) and left[0]:
            left[0] -= 1
            error = OSError(errno.EACCES, "held open")
            error.winerror = 32  # type: ignore[attr-defined, unused-ignore]
            raise error
        rename(part, path)

    return held
