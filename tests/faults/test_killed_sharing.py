"""Killed while it sends and takes in what others sealed: all of it or nothing of it.

More than 500 kills in each run of this file.
"""

from pathlib import Path

import pytest

from fieldapp.store import Store, open_store
from sync.exchange import exchange
from sync.local_folder import LocalFolder
from sync.meeting import Meeting
from sync.names import IDENTITY, ROOT
from tests.faults import share_jobs as jobs
from tests.faults.killed import Killing, MakeTrial
from tests.share.simulated_folder import is_good

pytestmark = pytest.mark.slow

LEAST_KILLS, AT_RANDOM = 80, 90
SEED = 20260302
LASTING = ("fsync", "fdatasync", "rename", "unlink")
"""The steps by which files come to last; within the database each is tried by other jobs."""

STRANGERS = {it.revision for it in jobs.KEPT[0].entries}
ALL_RECEIVED = {it.revision for it in jobs.COMES[0].entries}


def counting(store: Store) -> set[str]:
    kinds = {it.kind for it in store.ledger.all()}
    return {it.revision for kind in kinds for it in store.ledger.of_kind(kind)}


def test_a_segment_is_taken_in_as_a_whole_or_not_at_all(
    a_trial: MakeTrial, killing: Killing
) -> None:
    trial = a_trial("take_in", jobs.paired)
    for died in killing(trial):
        with open_store(trial.folder) as store:
            held = store.holdings.content(jobs.COMES[1]) is not None
            entries = {it.revision for it in store.ledger.all()}
            found = counting(store), store.holdings.acknowledged()
            store.check()

        assert found == ((ALL_RECEIVED, {jobs.KEPT[1]}) if held else (set(), frozenset())), died
        assert entries == STRANGERS | (ALL_RECEIVED if held else set()), died
        assert held or not trial.acknowledged(), died
        trial.again()
        with open_store(trial.folder) as store:
            assert counting(store) == ALL_RECEIVED, died


def test_a_record_of_trust_is_kept_with_all_that_counts_by_it_or_not_at_all(
    a_trial: MakeTrial, killing: Killing
) -> None:
    trial = a_trial("take_trust", jobs.paired)
    whole = STRANGERS | {jobs.STATED.revision}
    for died in killing(trial):
        with open_store(trial.folder) as store:
            number, counted = store.holdings.trust().number, counting(store)
            store.check()

        assert (number, counted) in ((1, set()), (2, whole)), died
        assert number > 1 or not trial.acknowledged(), died
        trial.again()
        with open_store(trial.folder) as store:
            assert counting(store) == whole, died


def test_killed_in_an_exchange_a_tablet_leaves_no_half_file_and_everything_arrives_once(
    a_trial: MakeTrial, killing: Killing
) -> None:
    trial = a_trial("meet", jobs.at_a_share, calls=LASTING)
    share = trial.folder / jobs.SHARE
    for died in killing(trial):
        assert half_files(share / ROOT) == [], died

        trial.again()
        reader = jobs.a_reader()
        exchange(Meeting(LocalFolder(share), reader))
        arrived = [it.revision for it in reader.entries]
        with open_store(trial.folder) as store:
            store.check()
            assert counting(store) > jobs.ALL_OWN, died
        assert set(arrived) > jobs.ALL_OWN, died
        assert len(arrived) == len(set(arrived)), died


def half_files(root: Path) -> list[str]:
    """Give the files of a share that bear a name of ours and are not what it says."""
    named = (
        it for it in root.rglob("*") if it.suffix in (".seg", ".trust") or it.name == IDENTITY
    )
    paths = (it.relative_to(root).as_posix() for it in named)
    return [path for path in paths if not is_good(path, (root / path).read_bytes())]
