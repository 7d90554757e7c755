"""The Settings screen says when the newest backup was made, here and in the second place."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from fieldapp.ui.backup_words import backup_words
from fieldapp.work.backup import keep_backup, troubles
from fieldapp.work.site import Site
from tests.demo_mine import SetClock, open_demo


@pytest.fixture
def site(tmp_path: Path) -> Iterator[Site]:
    made = open_demo(tmp_path / "home", SetClock())
    with made.store:
        yield made


@pytest.fixture
def with_stick(site: Site, tmp_path: Path) -> Site:
    stick = tmp_path / "stick"
    stick.mkdir()
    return site.with_settings(site.settings.model_copy(update={"backups": stick}))


def test_before_the_first_there_is_none(site: Site) -> None:
    assert backup_words(site) == "none yet"


def test_the_newest_is_named_by_its_time(site: Site) -> None:
    keep_backup(site)

    assert backup_words(site) == "newest 6 May 2031 09:30 UTC"


def test_a_second_place_is_named_beside_it(with_stick: Site) -> None:
    keep_backup(with_stick)

    newest = "newest 6 May 2031 09:30 UTC"
    assert backup_words(with_stick) == f"{newest}\nsecond place: {newest}"


def test_a_second_place_that_is_away_is_said_to_be_away(with_stick: Site, tmp_path: Path) -> None:
    (tmp_path / "stick").rmdir()
    told = troubles(keep_backup(with_stick))

    assert backup_words(with_stick).endswith("the second place is away")
    (line,) = told
    assert line.startswith("No backup of the records was kept:")
    assert "stick" in line
