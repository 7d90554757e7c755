"""Killed while it takes a new key: with everything that follows from it, or not at all."""

import pytest

from fieldapp.store import open_store
from sync.segment import tablet_id
from tests.faults import share_jobs as jobs
from tests.faults.killed import Killing, MakeTrial
from tests.faults.test_killed_sharing import counting

pytestmark = pytest.mark.slow

LEAST_KILLS, AT_RANDOM = 30, 20
SEED = 20260302


def test_a_new_key_takes_the_place_of_the_old_one_with_everything_or_not_at_all(
    a_trial: MakeTrial, killing: Killing
) -> None:
    trial = a_trial("begin_anew", jobs.paired_and_sealed)
    with open_store(trial.start) as store:
        (old,) = store.holdings.own_tablets()
        row = store.holdings.rows()[old]
        contents = [store.holdings.content(it.name) for it in row]
    for died in killing(trial):
        with open_store(trial.folder) as store:
            own, key = store.holdings.own_tablets(), store.holdings.tablet_key()
            present = store.holdings.identity(own[-1])
            found = store.check()
            rows = store.holdings.rows()
            assert [store.holdings.content(it.name) for it in row] == contents, died

        assert own[0] == old, died
        assert own[-1] == tablet_id(key.public_key), died
        assert rows[old] == row, died
        assert (found.segments, found.held) == ((1, 1) if len(own) == 1 else (0, 2)), died
        assert len(own) == 1 or (present and present.predecessor_id == old), died
        assert len(own) > 1 or not trial.acknowledged(), died
        trial.again()
        with open_store(trial.folder) as store:
            store.sealing.seal()
            assert (store.check().segments, store.check().waiting) == (1, 0), died
            assert counting(store) == {it.revision for it in jobs.OWN}, died
