"""A shared folder keeps its word, on a disk as in memory."""

import errno
import os
from collections.abc import Iterator
from pathlib import Path

import pytest

from sync.folder import Folder, NotThere, NotYet, ShareFails, ShareFull, ShareGone, ShareReadOnly
from sync.fsspec_folder import FsspecFolder
from sync.local_folder import LocalFolder
from sync.names import ROOT, STORE
from tests.share.drivers import DRIVERS, driven
from tests.share.memory_folder import MemoryFolder
from tests.share.samba import Samba, samba

AT_MOST = 1000
PATH = "tablets/a/mine/000000/one.seg"


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Samba]:
    place = tmp_path_factory.mktemp("samba")
    (place / "share").mkdir()
    with samba(place / "own", place / "share") as started:
        yield started


@pytest.fixture(params=["memory", "disk", "smb", *DRIVERS])
def folder(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Folder]:
    if request.param == "smb":
        server: Samba = request.getfixturevalue("server")
        (server.folder / tmp_path.name / ROOT).mkdir(parents=True)
        yield server.connected(tmp_path.name)
    elif request.param in DRIVERS:
        with driven(request.param, tmp_path) as opened:
            yield opened
    else:
        yield MemoryFolder() if request.param == "memory" else on_disk(tmp_path)


def on_disk(place: Path) -> LocalFolder:
    (place / ROOT).mkdir()
    return LocalFolder(place)


def test_what_was_put_is_listed_and_read(folder: Folder) -> None:
    folder.put(PATH, b"whole")

    assert [(it.name, it.size) for it in folder.listing("tablets/a/mine/000000")] == [
        ("one.seg", 5)
    ]
    assert [it.name for it in folder.listing("tablets/a")] == ["mine"]
    assert folder.read(PATH, at_most=AT_MOST) == b"whole"


def test_putting_once_more_changes_nothing(folder: Folder) -> None:
    folder.put(PATH, b"whole")
    folder.put(PATH, b"whole")

    assert folder.read(PATH, at_most=AT_MOST) == b"whole"


def test_what_is_torn_is_put_again(folder: Folder) -> None:
    folder.put(PATH, b"wh")
    folder.put(PATH, b"whole")

    assert folder.read(PATH, at_most=AT_MOST) == b"whole"


def test_what_is_not_there_is_said_so(folder: Folder) -> None:
    assert not list(folder.listing("heads/mine"))
    with pytest.raises(NotThere):
        folder.read(PATH, at_most=AT_MOST)


def test_no_more_is_read_than_asked(folder: Folder) -> None:
    folder.put(PATH, b"x" * 50)

    assert len(folder.read(PATH, at_most=10)) == 11


def test_gone_is_gone(folder: Folder) -> None:
    folder.put(PATH, b"whole")
    folder.remove(PATH)
    folder.remove(PATH)

    assert not list(folder.listing("tablets/a/mine/000000"))


@pytest.fixture(params=["disk", "smb", "driver"])
def unplugged(request: pytest.FixtureRequest, tmp_path: Path) -> tuple[Folder, Path]:
    """Give a folder that is not there yet, and where it would be."""
    if request.param == "smb":
        server: Samba = request.getfixturevalue("server")
        return server.connected(tmp_path.name), server.folder / tmp_path.name
    if request.param == "driver":
        return FsspecFolder(f"file://{tmp_path}/stick"), tmp_path / "stick"
    return LocalFolder(tmp_path / "stick"), tmp_path / "stick"


def test_an_unplugged_share_is_no_empty_share(unplugged: tuple[Folder, Path]) -> None:
    folder, where = unplugged

    with pytest.raises(ShareGone):
        list(folder.listing("heads/mine"))
    with pytest.raises(ShareGone):
        folder.read(PATH, at_most=AT_MOST)
    with pytest.raises(ShareGone):
        folder.put(PATH, b"whole")
    assert not where.exists()


def test_an_empty_mount_point_is_no_share_to_write_in(unplugged: tuple[Folder, Path]) -> None:
    folder, where = unplugged
    where.mkdir()

    with pytest.raises(NotThere):
        folder.read(STORE, at_most=AT_MOST)
    with pytest.raises(ShareGone):
        folder.put(PATH, b"whole")
    assert not any(where.iterdir())


def test_only_what_makes_a_share_is_written_where_there_is_none(
    unplugged: tuple[Folder, Path],
) -> None:
    folder, where = unplugged
    with pytest.raises(ShareGone):
        folder.put(STORE, b"{}")
    where.mkdir()

    folder.put(STORE, b"{}")
    folder.put(PATH, b"whole")

    assert folder.read(STORE, at_most=AT_MOST) == b"{}"
    assert folder.read(PATH, at_most=AT_MOST) == b"whole"


def test_no_half_file_and_no_temporary_one_is_left_where_nothing_fits(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "no room")

    folder = on_disk(tmp_path)
    monkeypatch.setattr(os, "fsync", full)

    with pytest.raises(ShareFull):
        folder.put(PATH, b"whole")

    assert not list(folder.listing("tablets/a/mine/000000"))


@pytest.mark.parametrize(
    ("number", "told"),
    [
        (errno.EROFS, ShareReadOnly),
        (errno.EACCES, ShareReadOnly),
        (errno.EDQUOT, ShareFull),
        (errno.EFBIG, NotYet),
        (errno.EIO, ShareFails),
        (errno.ENOTCONN, ShareGone),
    ],
)
def test_what_stands_in_the_way_of_writing_is_told_as_what_it_is(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int, told: type[Exception]
) -> None:
    def refuse(*_: object) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "replace", refuse)

    with pytest.raises(told):
        on_disk(tmp_path).put(PATH, b"whole")


def test_a_rename_that_happened_though_it_failed_is_success(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A network file system may lose the answer (RFC 1813, 3.3.14, retransmitted RENAME)."""
    rename = os.replace

    def answered_late(*names: str) -> None:
        rename(*names)
        raise OSError(errno.ENOENT, "no such file")

    monkeypatch.setattr(os, "replace", answered_late)
    folder = on_disk(tmp_path)

    folder.put(PATH, b"whole")

    assert folder.read(PATH, at_most=AT_MOST) == b"whole"


@pytest.fixture
def placeholder(tmp_path: Path) -> LocalFolder:
    folder = on_disk(tmp_path)
    folder.put(PATH, b"whole")
    path = tmp_path / ROOT / PATH
    path.unlink()
    path.mkdir()
    return folder


def test_a_folder_in_a_file_s_place_is_no_file(placeholder: LocalFolder) -> None:
    with pytest.raises(NotThere):
        placeholder.read(PATH, at_most=AT_MOST)
