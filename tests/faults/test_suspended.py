"""A tablet falls asleep in the middle of an exchange, and wakes up much later."""

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path

import pytest

from fieldapp.store import open_store
from sync.exchange import exchange
from sync.folder import Folder
from sync.local_folder import LocalFolder
from sync.meeting import Meeting
from sync.names import ROOT
from tests.faults import share_jobs as jobs
from tests.share.samba import PASSWORD, samba

pytestmark = pytest.mark.slow

ASLEEP_S = 10.0
SEGMENTS = 100
ENOUGH_SENT = 5
CODE = """
import sys
from pathlib import Path
from fieldapp.store import open_store
from sync.exchange import exchange
from sync.meeting import Meeting
from sync.places import open_folder

home, place, password = sys.argv[1:]
with open_store(Path(home)) as store:
    told = exchange(Meeting(open_folder(place, password=lambda _: password), store.holdings))
    print(len(told.sent))
"""


@pytest.fixture
def home(tmp_path: Path) -> Path:
    with open_store(tmp_path / "home") as store:
        jobs.at_a_share(store, segments=SEGMENTS)
    return tmp_path / "home"


Where = Callable[[Path], AbstractContextManager[tuple[str, Folder]]]
"""Has the share in a place; gives its name, and another tablet's sight of it."""


@contextmanager
def at_a_directory(home: Path) -> Iterator[tuple[str, Folder]]:
    share = home / jobs.SHARE
    yield str(share), LocalFolder(share)


@contextmanager
def at_a_server(home: Path) -> Iterator[tuple[str, Folder]]:
    with samba(home.with_name("samba"), home / jobs.SHARE) as server:
        yield str(server.where()), server.connected()


@pytest.mark.parametrize("where", [at_a_directory, at_a_server])
def test_a_tablet_that_falls_asleep_in_an_exchange_holds_nobody_up_and_goes_on(
    home: Path, where: Where
) -> None:
    reader, root = jobs.a_reader(), home / jobs.SHARE / ROOT
    with where(home) as (place, folder):
        before = len(list(root.rglob("*.seg")))
        child = subprocess.Popen(  # noqa: S603
            [sys.executable, "-c", CODE, str(home), place, PASSWORD],
            stdout=subprocess.PIPE,
            text=True,
        )
        while len(list(root.rglob("*.seg"))) < before + ENOUGH_SENT:
            assert child.poll() is None
        os.kill(child.pid, signal.SIGSTOP)
        sent = len(list(root.rglob("*.seg"))) - before
        exchange(Meeting(folder, reader))
        arrived = jobs.ALL_OWN & {it.revision for it in reader.entries}
        time.sleep(ASLEEP_S)
        os.kill(child.pid, signal.SIGCONT)
        said, _ = child.communicate()
        exchange(Meeting(folder, reader))

    assert ENOUGH_SENT <= sent < SEGMENTS
    assert len(arrived) < len(jobs.ALL_OWN)
    assert json.loads(said) >= SEGMENTS
    revisions = [it.revision for it in reader.entries]
    assert set(revisions) > jobs.ALL_OWN
    assert len(revisions) == len(set(revisions))
    assert not list(root.rglob("*.tmp"))
