"""Opening a home: settings that are refused in words, records that are nobody else's."""

import logging
from datetime import time
from pathlib import Path

import pytest

from fieldapp.start import (
    LOG_FILE,
    SETTINGS_FILE,
    HomeRefused,
    SettingsRefused,
    has_screen,
    home_folder,
    open_site,
    read_settings,
    start_log,
    utc_now,
    write_settings,
)
from schemas.settings import Settings, Shift
from tests.demo_mine import demo_home

# --- where ------------------------------------------------------------------------------------


def test_the_folder_that_was_named_is_the_home(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LASTROW_HOME", "elsewhere")

    assert home_folder(tmp_path) == tmp_path


@pytest.mark.parametrize(("demo", "name"), [(False, ""), (True, "demo")])
def test_the_environment_names_the_home_and_the_demo_has_its_own(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, *, demo: bool
) -> None:
    monkeypatch.setenv("LASTROW_HOME", str(tmp_path))

    assert home_folder(demo=demo) == tmp_path / name


def test_without_either_it_is_the_system_s_place(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("LASTROW_HOME", raising=False)

    assert home_folder().name == "lastrow"


@pytest.mark.parametrize(
    ("display", "wayland", "there"),
    [("", "", False), (":0", "", True), ("", "wayland-0", True)],
)
def test_a_screen_is_one_of_two_kinds(
    display: str, wayland: str, monkeypatch: pytest.MonkeyPatch, *, there: bool
) -> None:
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setenv("DISPLAY", display)
    monkeypatch.setenv("WAYLAND_DISPLAY", wayland)

    assert has_screen() is there


# --- settings ----------------------------------------------------------------------------------


def test_without_a_file_the_settings_are_the_defaults(tmp_path: Path) -> None:
    assert read_settings(tmp_path / SETTINGS_FILE) == Settings()


@pytest.mark.parametrize(
    "settings",
    [
        Settings(),
        Settings(units="feet and inches", theme="bright", zone="Etc/GMT-10"),
        Settings(crews=('crew "A"', "back\\slash", "líne")),
        Settings(shifts=(Shift(name='the "long" one', starts=time(5, 30)),)),
        Settings(backups=Path("/media/a stick")),
        Settings(camera_folder=Path("/media/Pictures of 2031")),
    ],
    ids=str,
)
def test_settings_are_read_back_as_they_were_written(settings: Settings, tmp_path: Path) -> None:
    path = tmp_path / SETTINGS_FILE
    write_settings(path, settings)

    assert read_settings(path) == settings


REFUSED = {
    "torn": ('units = "met', "the text itself"),
    "not UTF-8": ('units = "ÿ"', "the text itself"),
    "a word that isn't one": ('units = "furlongs"', "units"),
    "of the wrong type": ("crews = 3", "crews"),
    "a field of a newer version": ("autopilot = true", "autopilot"),
    "a zone that isn't one": ('zone = "Middle/Earth"', "zone"),
    "a path for a zone": ('zone = "../../etc/passwd"', "zone"),
    "no shift at all": ("shifts = []", "shifts"),
    "a time that isn't one": ('[[shifts]]\nname = "day"\nstarts = 25', "shifts[0].starts"),
    "not a number": ("crews = [nan]", "crews[0]"),
    "infinity": ("theme = inf", "theme"),
    "a key twice": ('units = "metres"\nunits = "metres"', "the text itself"),
    "nested deeply": ("crews = " + "[" * 20_000, "the text itself"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_settings_that_can_t_be_are_refused_with_the_place(name: str, tmp_path: Path) -> None:
    text, place = REFUSED[name]
    raw = text.encode("latin-1")
    path = tmp_path / SETTINGS_FILE
    path.write_bytes(raw)
    with pytest.raises(SettingsRefused) as caught:
        read_settings(path)

    assert caught.value.place == place
    assert "\n" not in caught.value.sentences()[0]


def test_settings_that_can_t_be_leave_the_records_unopened(tmp_path: Path) -> None:
    (tmp_path / SETTINGS_FILE).write_text("crews = 3")
    with pytest.raises(SettingsRefused):
        open_site(tmp_path)

    assert [path.name for path in tmp_path.iterdir()] == [SETTINGS_FILE]


# --- records ------------------------------------------------------------------------------------


def test_a_new_home_holds_no_mine(tmp_path: Path) -> None:
    site = open_site(tmp_path / "new")
    with site.store:
        assert site.mine.name == ""


def test_a_home_that_was_started_knows_its_mine(tmp_path: Path) -> None:
    site = open_site(demo_home(tmp_path / "home"))
    with site.store:
        assert [site.mine.name, site.mine.demo] == ["Wrenfall", True]


@pytest.mark.parametrize("raw", [b"", b"{", b"[]", b'{"name": "Ours"}', b"\xff"])
def test_a_torn_mine_file_is_told_and_nothing_opened(raw: bytes, tmp_path: Path) -> None:
    home = demo_home(tmp_path / "home")
    (home / "mine.json").write_bytes(raw)
    with pytest.raises(HomeRefused) as caught:
        open_site(home)

    assert "mine.json is torn or is not ours" in caught.value.reason


def test_a_home_that_can_t_be_made_is_told(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("no folder")
    with pytest.raises(HomeRefused):
        open_site(tmp_path / "file" / "home")


def test_the_log_holds_what_was_logged_and_lets_go_of_its_file(tmp_path: Path) -> None:
    handler = start_log(tmp_path)
    logging.getLogger("lastrow.test").info("round signed", extra={"round": 65})
    logging.getLogger("ezdxf").info("loading resources")
    logging.getLogger().removeHandler(handler)
    handler.close()

    (logged,) = (tmp_path / LOG_FILE).read_text().splitlines()
    assert logged.endswith("INFO lastrow.test round signed")


def test_the_clock_knows_its_zone_and_no_more_than_milliseconds() -> None:
    now = utc_now()

    assert now.tzinfo is not None
    assert now.microsecond % 1000 == 0
