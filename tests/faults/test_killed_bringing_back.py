"""Killed while a backup is made, or a home is brought back: the old one or the new, whole."""

from pathlib import Path

import pytest

from fieldapp.store import Store, open_store
from fieldapp.store.backup import write_backup
from fieldapp.store.backup_file import read_backup
from fieldapp.store.backups import generations, keep_generation
from fieldapp.store.bring_back import newest_first
from fieldapp.store.home import BACKUPS, DATABASE
from fieldapp.store.troubles import DatabaseSetAside
from tests.faults import jobs
from tests.faults.killed import Killing, MakeTrial, Nursery, Trial, prepared
from tests.made import STARTED_AT

pytestmark = pytest.mark.slow

LEAST_KILLS, AT_RANDOM = 30, 12
SEED = 20260303
EARLIER, LATER = jobs.WAITING[:100], jobs.WAITING[100:]


def with_a_backup(store: Store) -> None:
    """Prepare: a backup, and what was stated after it."""
    store.keys.tablet()
    store.ledger.add(EARLIER)
    assert not keep_generation(store).troubles
    store.ledger.add(LATER)


def test_a_backup_is_kept_as_a_whole_or_not_at_all_and_the_one_before_stays(
    a_trial: MakeTrial, killing: Killing
) -> None:
    trial = a_trial("keep_backup", with_a_backup)
    for died in killing(trial):
        kept = [read_backup(it.path) for it in generations(trial.folder / BACKUPS)]
        with open_store(trial.folder) as store:
            assert store.check().entries == len(jobs.WAITING), died

        held = [it.manifest.entries for it in kept]
        assert held in ([100], [100, 250]), died
        assert len(held) == 2 or not trial.acknowledged(), died
        trial.again()
        newest = generations(trial.folder / BACKUPS)[-1]
        assert read_backup(newest.path).manifest.entries == 250, died


def is_damaged(folder: Path) -> bool:
    try:
        open_store(folder).close()
    except DatabaseSetAside as told:
        return told.readable == len(jobs.WAITING)
    return False


def test_a_damaged_home_is_as_it_was_or_brought_back(a_trial: MakeTrial, killing: Killing) -> None:
    trial = a_trial("bring_back", with_a_backup)
    with (trial.start / DATABASE).open("r+b") as file:
        file.write(bytes(100))
    for died in killing(trial):
        if is_damaged(trial.folder):
            assert not trial.acknowledged(), died
            trial.again()
        with open_store(trial.folder) as store:
            assert tuple(store.ledger.all()) == jobs.WAITING, died
            store.sealing.seal()
            assert store.check().segments, died
        assert list(newest_first(trial.folder)), died
        assert list(trial.folder.glob("damaged-*")), died


def test_an_empty_home_stays_empty_or_holds_everything(
    tmp_path: Path, nurse: Nursery, killing: Killing
) -> None:
    source = prepared(tmp_path / "source", with_a_backup)
    write_backup(source / DATABASE, tmp_path / jobs.BACKUP_ELSEWHERE, STARTED_AT)
    trial = Trial("bring_back_elsewhere", tmp_path / "nothing", tmp_path / "trial", nurse)
    for died in killing(trial):
        before = holds(trial.folder)
        assert before in (0, len(jobs.WAITING)), died
        assert before or not trial.acknowledged(), died
        trial.again()
        assert holds(trial.folder) == len(jobs.WAITING), died


def holds(folder: Path) -> int:
    with open_store(folder) as store:
        return store.check().entries
