"""The whole exchange on what drivers of fsspec reach: objects, and files that are renamed."""

from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

import pytest

from sync.exchange import exchange
from sync.folder import Folder, ShareGone
from sync.fsspec_folder import FsspecFolder
from sync.meeting import Meeting
from sync.names import ROOT
from sync.outcome import Outcome
from tests.faults.share_at_hand import HOUR_S, Watched, sealed_by, two_enrolled_in
from tests.share.drivers import DRIVERS, READ, driven, file_server
from tests.share.holdings import ListHoldings


@pytest.fixture(params=DRIVERS)
def folder(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[FsspecFolder]:
    with driven(request.param, tmp_path) as opened:
        yield opened


def met(tablet: ListHoldings, folder: Folder, now_s: float = 0, *, deep: bool = False) -> Outcome:
    return exchange(Meeting(folder, tablet, now_s=lambda: now_s), deep=deep)


def test_two_tablets_exchange_and_nothing_is_written_once_all_is_there(
    folder: FsspecFolder,
) -> None:
    one, other = two_enrolled_in(folder)
    said = [one.state_something(), other.state_something()]
    for tablet in (one, other, one, other, one):
        met(tablet, folder, deep=True)
    watched = Watched(folder)

    met(other, watched)

    assert set(said) <= set(one.entries)
    assert set(said) <= set(other.entries)
    assert not watched.puts


def test_a_torn_file_is_mended_by_any_holder(folder: FsspecFolder) -> None:
    one, other = two_enrolled_in(folder)
    one.state_something()
    met(one, folder)
    met(other, folder)
    path = sealed_by(one)[0].path
    folder.put(path, b"torn")

    met(other, folder, HOUR_S, deep=True)

    assert folder.read(path, at_most=100_000) == one.content(sealed_by(one)[0])


def test_a_server_for_files_that_goes_half_way_loses_nothing(tmp_path: Path) -> None:
    (tmp_path / ROOT).mkdir()
    with ExitStack() as server:
        folder = server.enter_context(file_server(tmp_path))
        one, other = two_enrolled_in(folder)
        for _ in range(5):
            one.state_something()
            one.seal()

        def goes(path: str) -> bool:
            if path == sealed_by(one)[2].path:
                server.close()
            return False

        with pytest.raises(ShareGone):
            met(one, Watched(folder, killed_before=goes))

    with file_server(tmp_path) as again:
        met(one, again)
        met(other, again)
    assert set(one.entries) <= set(other.entries)
    assert len(other.entries) == len(set(other.entries))


def test_a_server_that_lets_nobody_write_is_read_and_named(tmp_path: Path) -> None:
    (tmp_path / ROOT).mkdir()
    with file_server(tmp_path) as folder:
        one, other = two_enrolled_in(folder)
        theirs = other.state_something()
        met(other, folder)
    ours = one.state_something()

    with file_server(tmp_path, may=READ) as read_only:
        told = met(one, read_only)

    assert "may not write" in told.only_read
    assert theirs in one.entries
    with file_server(tmp_path) as folder:
        met(one, folder)
        met(other, folder)
    assert ours in other.entries
