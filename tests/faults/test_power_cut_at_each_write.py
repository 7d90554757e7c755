"""The power is cut after every single write of a job: what was acknowledged is there, as a whole.

Beside `test_power_cut`, which copies a real disk at the moment of the acknowledgement, this
looks at every moment between, at a disk that writes in any order and in parts. With less
syncing it must find something lost, or it would show nothing.
"""

import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from random import Random

import pytest

from fieldapp.store import Store, open_store
from fieldapp.store.backups import keep_generation
from fieldapp.store.home import DATABASE
from fieldapp.store.journal import ROLLBACK, WRITE_AHEAD, Journal
from fieldapp.store.troubles import DatabaseDamaged, DatabaseSetAside
from tests.faults import jobs
from tests.faults.killed import prepared
from tests.faults.power_cuts import Disk, laid_out, traced
from tests.faults.test_killed_upgrading import Found, found_in

pytestmark = pytest.mark.slow

SEED = 20260305
VERSION_1 = Path(__file__).parents[1] / "reference/databases/version-1.db"


@dataclass(frozen=True)
class Cut:
    """What is left of a home, and how much was acknowledged before."""

    folder: Path
    acknowledged: int
    when: str


def cuts(job: str, start: Path, place: Path, journal: Journal | None = None) -> Iterator[Cut]:
    """Cut the power after each call that changed the disk, in three ways.

    What was found once, with as much acknowledged, is not laid out and looked at again.
    """
    home = Path(shutil.copytree(start, place / "home"))
    disk, chance = Disk(home), Random(SEED)  # noqa: S311 - what reaches the disk, no secret
    looked_at = set[tuple[int, frozenset[tuple[str, bytes]]]]()
    for number, call in enumerate(traced(job, home, journal)):
        if not disk.take(call):
            continue
        for way in ("none of it", "some of it", "other parts of it"):
            found = disk.after_a_cut(None if way == "none of it" else chance)
            found.pop(f"{DATABASE}-shm", None)
            if (known := (disk.acknowledged, frozenset(found.items()))) in looked_at:
                continue
            looked_at.add(known)
            folder = laid_out(found, place / "found")
            yield Cut(folder, disk.acknowledged, f"after call {number}, {call.name}: {way}")


@pytest.mark.parametrize("journal", [ROLLBACK, WRITE_AHEAD], ids=lambda journal: journal.mode)
def test_acknowledged_touches_are_there_after_a_cut_at_any_write(
    tmp_path: Path, journal: Journal
) -> None:
    start = prepared(tmp_path / "start", jobs.with_draft)
    seen = 0
    for cut in cuts("save_touches", start, tmp_path, journal):
        with open_store(cut.folder) as store:
            kept = store.drafts.touches(jobs.DRAFT)
            store.check()
        assert kept == jobs.TOUCHES[: len(kept)], cut.when
        assert cut.acknowledged <= len(kept) <= cut.acknowledged + 1, cut.when
        seen += 1

    assert seen > 30, "so many disks that differ"


def test_with_less_syncing_this_test_sees_acknowledged_touches_go(tmp_path: Path) -> None:
    start = prepared(tmp_path / "start", jobs.with_draft)
    lost = 0
    for cut in cuts("save_touches", start, tmp_path, Journal("delete", "OFF")):
        try:
            with open_store(cut.folder) as store:
                lost += len(store.drafts.touches(jobs.DRAFT)) < cut.acknowledged
        except (DatabaseDamaged, DatabaseSetAside):
            lost += 1

    assert lost


def test_a_draft_is_signed_as_a_whole_or_still_open(tmp_path: Path) -> None:
    start = prepared(tmp_path / "start", jobs.with_touched_draft)
    for cut in cuts("finish_draft", start, tmp_path):
        with open_store(cut.folder) as store:
            entries, touches = tuple(store.ledger.all()), store.drafts.touches(jobs.DRAFT)
            store.check()
        assert (entries, touches) in ((jobs.SIGNED, ()), ((), jobs.TOUCHES)), cut.when
        assert entries or not cut.acknowledged, cut.when


def test_entries_are_sealed_as_a_whole_or_still_wait(tmp_path: Path) -> None:
    start = prepared(tmp_path / "start", jobs.with_waiting_entries)
    for cut in cuts("seal", start, tmp_path):
        with open_store(cut.folder) as store:
            found = store.check()
        assert (found.segments, found.waiting) in ((0, 250), (2, 0)), cut.when
        assert found.segments or not cut.acknowledged, cut.when


def test_a_database_is_carried_forward_as_a_whole_or_is_the_old_one(tmp_path: Path) -> None:
    start = tmp_path / "start"
    start.mkdir()
    shutil.copy(VERSION_1, start / DATABASE)
    before = found_in(VERSION_1)
    after: list[Found] = []
    for cut in cuts("upgrade", start, tmp_path):
        found = found_in(cut.folder / DATABASE)
        if found != before:
            after.append(found)
        assert found.lines == before.lines, cut.when
        assert found != before or not cut.acknowledged, cut.when

    assert after
    assert all(it == after[0] for it in after)


def damaged_with_a_backup(store: Store) -> None:
    store.keys.tablet()
    store.ledger.add(jobs.SIGNED)
    assert not keep_generation(store).troubles
    store.ledger.add(jobs.WAITING[:40])


def test_a_home_is_brought_back_as_a_whole_or_is_as_damaged_as_it_was(tmp_path: Path) -> None:
    start = prepared(tmp_path / "start", damaged_with_a_backup)
    with (start / DATABASE).open("r+b") as file:
        file.write(bytes(100))
    wanted = {*jobs.SIGNED, *jobs.WAITING[:40]}
    back, told = 0, list[DatabaseSetAside]()
    for cut in cuts("bring_back", start, tmp_path):
        try:
            with open_store(cut.folder) as store:
                assert set(store.ledger.all()) == wanted, cut.when
                store.check()
                back += 1
        except DatabaseSetAside as damaged:
            told.append(damaged)
            assert not cut.acknowledged, cut.when

    assert back
    assert {it.readable for it in told} == {len(wanted)}
