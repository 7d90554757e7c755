"""Killed at any step and at any moment: all or nothing, nothing lost that was acknowledged,
and doing it again works. More than 350 kills in each run of this file.

What SIGKILL can't show is what a power cut takes: the page cache outlives the process. That
is shown in `test_power_cut`.
"""

from pathlib import Path

import pytest

from fieldapp.store import open_store
from tests.faults import jobs
from tests.faults.killed import Killing, MakeTrial, Nursery, Trial

pytestmark = pytest.mark.slow

LEAST_KILLS, AT_RANDOM = 50, 30
SEED = 20260301


def test_touches_that_were_acknowledged_are_there(a_trial: MakeTrial, killing: Killing) -> None:
    trial = a_trial("save_touches", jobs.with_draft)
    for died in killing(trial):
        shown = len(trial.acknowledged())
        with open_store(trial.folder) as store:
            kept = store.drafts.touches(jobs.DRAFT)
            store.check()

        assert kept == jobs.TOUCHES[: len(kept)], died
        assert shown <= len(kept) <= shown + 1, died
        trial.again()
        with open_store(trial.folder) as store:
            assert store.drafts.touches(jobs.DRAFT) == jobs.TOUCHES, died


def test_a_draft_is_signed_as_a_whole_or_still_open(a_trial: MakeTrial, killing: Killing) -> None:
    trial = a_trial("finish_draft", jobs.with_touched_draft)
    for died in killing(trial):
        with open_store(trial.folder) as store:
            entries = tuple(store.ledger.all())
            touches = store.drafts.touches(jobs.DRAFT)
            is_open = bool(store.drafts.open_drafts())
            store.check()

        whole = (jobs.SIGNED, (), False)
        nothing = ((), jobs.TOUCHES, True)
        assert (entries, touches, is_open) in (whole, nothing), died
        assert entries or not trial.acknowledged(), died
        trial.again()
        with open_store(trial.folder) as store:
            assert tuple(store.ledger.all()) == jobs.SIGNED, died


def test_entries_are_sealed_as_a_whole_or_still_wait(a_trial: MakeTrial, killing: Killing) -> None:
    trial = a_trial("seal", jobs.with_waiting_entries)
    for died in killing(trial):
        with open_store(trial.folder) as store:
            found = store.check()

        assert (found.segments, found.waiting) in ((0, 250), (2, 0)), died
        assert found.segments or not trial.acknowledged(), died
        trial.again()
        with open_store(trial.folder) as store:
            assert store.check().segments == 2, died
            assert tuple(store.ledger.all()) == jobs.WAITING, died


def test_a_new_store_that_was_cut_short_is_made_the_next_time(
    tmp_path: Path, nurse: Nursery, killing: Killing
) -> None:
    trial = Trial("make_store", tmp_path / "nothing", tmp_path / "trial", nurse)
    for died in killing(trial):
        with open_store(trial.folder) as store:
            entries = tuple(store.ledger.all())
            store.check()

        assert entries in ((), jobs.SIGNED), died
        assert entries or not trial.acknowledged(), died
        trial.again()
