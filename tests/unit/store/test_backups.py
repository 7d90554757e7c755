"""Three generations of backups, kept without anybody thinking of it."""

import os
import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path
from types import SimpleNamespace

import pytest

from fieldapp.store import Store, open_store
from fieldapp.store.backup_file import read_backup
from fieldapp.store.backups import (
    DAY,
    HOUR,
    Generation,
    generations,
    keep_generation,
    keep_when_due,
    second_folder,
)
from fieldapp.store.home import BACKUPS, DATABASE, MINE_FILE
from fieldapp.store.whose import Whose
from tests.made import STARTED_AT, entry
from tests.unit.store.homes import MINE


@dataclass
class Days:
    """A tablet whose clock is set by hand, and on which something is stated now and then."""

    store: Store
    clock: list[datetime]
    stated: int = field(default=0)

    @property
    def folder(self) -> Path:
        return self.store.folder / BACKUPS

    def pass_time(self, by: timedelta) -> None:
        self.clock[0] += by

    def state(self) -> None:
        self.store.ledger.add([entry(self.stated)])
        self.stated += 1

    def kept(self) -> list[Generation]:
        return generations(self.folder)

    def ages(self) -> list[timedelta]:
        return [self.clock[0] - it.made_at for it in reversed(self.kept())]


@pytest.fixture
def days(tmp_path: Path) -> Iterator[Days]:
    clock = [STARTED_AT]
    with open_store(tmp_path / "home", now=lambda: clock[0]) as store:
        (store.folder / MINE_FILE).write_bytes(MINE)
        made = Days(store, clock)
        made.state()
        yield made


def test_after_each_exchange_one_more_is_kept_while_something_was_written(days: Days) -> None:
    first = keep_generation(days.store)
    again = keep_generation(days.store)
    days.state()
    third = keep_generation(days.store)

    assert first == again
    assert first.newest
    assert third.newest
    assert (first.newest.number, third.newest.number) == (1, 2)
    assert read_backup(third.newest.path).manifest.entries == 2


def test_with_nothing_written_a_new_one_is_made_a_day_later(days: Days) -> None:
    keep_generation(days.store)
    days.pass_time(DAY)

    assert len(days.kept()) == 1
    keep_generation(days.store)
    assert len(days.kept()) == 2


def test_without_an_exchange_one_is_kept_an_hour_after_the_last(days: Days) -> None:
    keep_when_due(days.store)
    days.state()
    days.pass_time(HOUR - timedelta(seconds=1))
    keep_when_due(days.store)
    assert len(days.kept()) == 1

    days.pass_time(timedelta(seconds=1))
    keep_when_due(days.store)
    assert len(days.kept()) == 2


def test_of_many_three_stay_and_the_older_ones_are_days_apart(days: Days) -> None:
    for _ in range(100):
        days.state()
        keep_generation(days.store)
        days.pass_time(HOUR)

    newest, before, oldest = days.ages()
    assert newest == HOUR
    assert oldest - before >= DAY
    assert read_backup(days.kept()[-1].path).manifest.entries == 101


@pytest.mark.parametrize("jump", [timedelta(days=3650), timedelta(days=-3650)])
def test_a_clock_that_jumps_by_years_does_not_keep_old_ones_for_ever(
    days: Days, jump: timedelta
) -> None:
    for _ in range(3):
        days.state()
        keep_generation(days.store)
        days.pass_time(HOUR)
    days.pass_time(jump)
    for _ in range(60):
        days.state()
        keep_when_due(days.store)
        days.pass_time(HOUR)

    numbers = [it.number for it in days.kept()]
    assert len(numbers) == 3
    assert min(numbers) > 3


def test_of_damage_no_backup_is_made_and_the_older_ones_stay(days: Days) -> None:
    keep_generation(days.store)
    before = days.kept()
    days.state()
    content = bytearray((days.store.folder / DATABASE).read_bytes())
    place = content.index(entry(0).line)
    content[place + 20] ^= 1
    (days.store.folder / DATABASE).write_bytes(content)

    told = keep_generation(days.store)

    (trouble,) = told.troubles
    assert "do not fit its revision" in trouble.why
    assert days.kept() == before


def test_a_full_disk_is_told_and_work_goes_on(days: Days, monkeypatch: pytest.MonkeyPatch) -> None:
    keep_generation(days.store)
    days.state()
    with monkeypatch.context() as patch:
        patch.setattr(shutil, "disk_usage", lambda _path: SimpleNamespace(free=0))
        told = keep_generation(days.store)

    (trouble,) = told.troubles
    assert "no room left" in trouble.why
    assert told.newest == days.kept()[-1]
    days.state()
    assert not keep_generation(days.store).troubles


def test_what_was_being_written_when_the_power_went_is_cleared_away_later(days: Days) -> None:
    keep_generation(days.store)
    old, new = (days.folder / f"t-{name}.tmp" for name in ("old", "new"))
    for file in (old, new):
        file.write_bytes(b"half")
    os.utime(old, (0, 0))
    days.state()
    keep_generation(days.store)

    assert not old.exists()
    assert new.exists()


def test_names_of_other_files_are_none_of_ours(days: Days) -> None:
    keep_generation(days.store)
    for name in ("notes.txt", "one.lastrow", "000009-yesterday.lastrow"):
        (days.folder / name).write_bytes(b"")

    assert [it.number for it in days.kept()] == [1]


# --- a second place -----------------------------------------------------------------------------


@pytest.fixture
def stick(tmp_path: Path) -> Path:
    (tmp_path / "stick").mkdir()
    return tmp_path / "stick"


def test_a_second_place_gets_the_same(days: Days, stick: Path) -> None:
    for _ in range(5):
        days.state()
        assert not keep_generation(days.store, stick).troubles
        days.pass_time(HOUR)

    there = generations(second_folder(stick, Whose(tablet="t-7")))
    assert [it.made_at for it in there] == [it.made_at for it in days.kept()]
    assert there[-1].path.read_bytes() == days.kept()[-1].path.read_bytes()


def test_a_second_place_that_is_away_is_told_and_gets_the_newest_when_it_is_back(
    days: Days, stick: Path
) -> None:
    stick.rmdir()
    told = keep_generation(days.store, stick)

    (trouble,) = told.troubles
    assert trouble == told.second
    assert "there is no such folder" in trouble.why
    assert len(days.kept()) == 1
    assert not stick.exists(), "nothing is written into an empty mount point's place"
    stick.mkdir()
    assert not keep_generation(days.store, stick).troubles
    assert len(generations(second_folder(stick, Whose(tablet="t-7")))) == 1
