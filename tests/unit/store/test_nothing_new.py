"""Looking into a share where nothing is new: what it costs follows from no number of tablets."""

from pathlib import Path

import pytest

from sync.exchange import exchange
from sync.local_folder import LocalFolder
from sync.meeting import Meeting
from sync.names import ROOT, STORE
from tests.asked import times_asked
from tests.share.disk_tablet import DiskTablet
from tests.share.holdings import ListHoldings
from tests.share.mine import STORE_JSON, TRUST
from tests.share.strangers import enrolled, say

MOST_STATEMENTS = 40


def statements(folder: Path, others: int) -> int:
    """Give how many statements the database is asked where nothing is new since the last look."""
    share = LocalFolder(folder)
    (folder / ROOT).mkdir(parents=True)
    (folder / ROOT / STORE).write_bytes(STORE_JSON)
    tablet = DiskTablet(folder.with_name(f"tablet beside {others}"), TRUST)
    for number in range(others):
        other = ListHoldings(number + 1000, TRUST)
        say(tablet, enrolled(other.tablet_key()))
        other.state_something()
        exchange(Meeting(share, other))
    outcomes = [exchange(Meeting(share, tablet)) for _ in range(3)]
    asked = times_asked(lambda: outcomes.append(exchange(Meeting(share, tablet))))
    tablet.close()
    assert (outcomes[-1].sent, outcomes[-1].received, outcomes[-1].waiting) == ([], [], [])
    return asked


@pytest.mark.parametrize("others", [3, 12])
def test_the_database_is_asked_no_more_often_with_more_tablets(
    tmp_path: Path, others: int
) -> None:
    assert statements(tmp_path / "share", others) == statements(tmp_path / "share of two", 2)


def test_the_database_is_asked_each_thing_once(tmp_path: Path) -> None:
    """That a transaction begins counts as one."""
    assert statements(tmp_path / "share", 2) <= MOST_STATEMENTS
