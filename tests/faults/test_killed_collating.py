"""Killed while it collates, at each commit and at any moment: what came in came in whole, and
collated again it is the database that nobody disturbed."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.faults.collating_jobs import (
    SHARE,
    address_in,
    all_kept,
    half_a_segment,
    in_a_file,
    with_share,
)
from tests.faults.killed import Nursery, Trial
from tests.made import entry
from tests.office import Share, ask, fill
from tests.postgres import Postgres, postgres
from tests.share.strangers import Stranger

pytestmark = pytest.mark.slow

LEAST_KILLS = 5
SEED = 20260303
DIES_WITHIN_S = 60.0
MANY = 60
"""So many segments that several processes open them."""


@pytest.fixture(scope="module")
def server() -> Iterator[Postgres]:
    with postgres() as started:
        yield started


@pytest.fixture(params=["SQLite", "PostgreSQL"])
def furnish(request: pytest.FixtureRequest) -> Callable[[Path], None]:
    """Give what lets a folder name a new database."""
    if request.param == "SQLite":
        return in_a_file
    started: Postgres = request.getfixturevalue("server")
    made: list[str] = []

    def on_the_server(folder: Path) -> None:
        while made:
            started.drop(made.pop())
        made.append(started.new_database())
        (folder / "address").write_text(made[-1])

    return on_the_server


@pytest.fixture
def trial(tmp_path: Path, nurse: Nursery, furnish: Callable[[Path], None]) -> Trial:
    start = with_share(tmp_path / "start")
    return Trial("collate", start, tmp_path / "trial", nurse, furnish=furnish)


@pytest.fixture
def undisturbed(trial: Trial, tmp_path: Path) -> list[object]:
    address = f"sqlite:///{tmp_path}/undisturbed.db"
    fill(address, trial.start / SHARE)
    return all_kept(address)


@pytest.mark.parametrize("furnish", ["SQLite"], indirect=True)
def test_killed_at_any_commit_it_has_done_whole_steps_and_goes_on(
    trial: Trial, undisturbed: list[object]
) -> None:
    assert still_right(trial, trial.killed_at_commits(), undisturbed) >= LEAST_KILLS


def test_killed_at_any_moment_it_has_done_whole_steps_and_goes_on(
    trial: Trial, undisturbed: list[object]
) -> None:
    kills = trial.killed_at_random(LEAST_KILLS, SEED)

    assert still_right(trial, kills, undisturbed) == LEAST_KILLS


def still_right(trial: Trial, kills: Iterator[str], undisturbed: list[object]) -> int:
    """Look at what each kill left, and at what collating again makes of it; count the kills."""
    number = 0
    for number, died in enumerate(kills, 1):  # noqa: B007 - the last one is how many there were
        address = address_in(trial.folder)
        if has_tables(address):
            assert not half_a_segment(address), died
        trial.again()
        assert all_kept(address) == undisturbed, died
    return number


def has_tables(address: str) -> bool:
    """Tell whether the tables were made by then: all at once or not yet."""
    if address.startswith("sqlite"):
        return bool(ask(address, "SELECT 1 FROM sqlite_master").rows)
    return bool(ask(address, "SELECT 1 FROM pg_tables WHERE tablename = 'kept_entry'").rows)


# --- whole processes, as they are started from a terminal ------------------------------------


@pytest.fixture
def many(tmp_path: Path) -> Share:
    share, tablets = Share(tmp_path / "home" / SHARE), (Stranger(1), Stranger(2))
    share.enrol(*tablets)
    for number in range(MANY):
        share.seal(tablets[number % 2], *(entry(10 * number + it) for it in range(10)))
    return share


def collating(address: str, share: Share) -> "subprocess.Popen[bytes]":
    words = ["collate", str(share.place), "--database", address]
    return subprocess.Popen(  # noqa: S603
        [sys.executable, "-m", "fieldapp", *words],
        env={**os.environ, "LASTROW_HOME": str(share.place.parent / "none")},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
    )


def test_two_that_collate_at_once_do_each_other_no_harm(
    many: Share, furnish: Callable[[Path], None], tmp_path: Path
) -> None:
    furnish(many.place.parent)
    address = address_in(many.place.parent)
    alone = f"sqlite:///{tmp_path}/alone.db"
    fill(alone, many.place)

    both = [collating(address, many) for _ in range(2)]
    told = [it.communicate()[1].decode() for it in both]

    assert [it.returncode for it in both] == [0, 0], told
    kept = "SELECT revision, line, counts, origin FROM kept_entry ORDER BY revision"
    assert ask(address, kept).rows == [
        (revision, line, bool(counts), origin)
        for revision, line, counts, origin in ask(alone, kept).rows
    ]


@pytest.mark.parametrize("furnish", ["SQLite"], indirect=True)
def test_one_that_was_killed_leaves_no_process_and_no_lock_behind(
    many: Share, furnish: Callable[[Path], None]
) -> None:
    furnish(many.place.parent)
    address = address_in(many.place.parent)
    child = collating(address, many)
    helpers = until(lambda: children_of(child.pid))

    child.send_signal(signal.SIGKILL)
    child.communicate()

    until(lambda: not [it for it in helpers if Path(f"/proc/{it}").exists()])
    fill(address, many.place)
    assert ask(address, "SELECT count(*) FROM entries").rows == [(10 * MANY,)]


def children_of(pid: int) -> list[int]:
    """Give the processes that one has started, but the one that only watches over resources."""
    found = []
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            said = stat.read_text().rpartition(")")[2].split()
            words = (stat.parent / "cmdline").read_bytes()
        except OSError:
            continue
        if int(said[1]) == pid and b"resource_tracker" not in words:
            found.append(int(stat.parent.name))
    return found


def until(holds: Callable[[], object]) -> list[int]:
    """Wait until something holds, and give what it gave."""
    ends = time.monotonic() + DIES_WITHIN_S
    while not (found := holds()):
        assert time.monotonic() < ends
        time.sleep(0.02)
    return found if isinstance(found, list) else []
