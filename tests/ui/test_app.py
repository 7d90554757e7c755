"""From switching on to somebody at work: the first frame, and what may stand in the way."""

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from fieldapp.start import SETTINGS_FILE, open_site
from fieldapp.store.backups import generations, keep_generation
from fieldapp.store.home import BACKUPS, DATABASE, MINE_FILE
from fieldapp.ui.background import let_finish
from fieldapp.ui.backing_up import BackingUp
from fieldapp.ui.front import Front
from tests.demo_mine import SetClock, demo_home
from tests.ui.harness import LANDSCAPE, PORTRAIT, Tablet
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window


@dataclass
class Start:
    """The app's glass, switched on at a home folder."""

    tablet: Tablet
    home: Path

    def __post_init__(self) -> None:
        self.front = Front(self.home, SetClock())
        self.tablet.show(self.front)

    def begin(self) -> None:
        self.front.begin()

    def sees(self, text: str) -> None:
        self.tablet.until(lambda: any(text in seen for seen in self.tablet.texts()), seconds=20)
        self.tablet.settle()


@pytest.fixture
def home(tmp_path: Path) -> Path:
    return demo_home(tmp_path / "home")


@pytest.fixture
def start(tablet: Tablet, home: Path) -> Iterator[Start]:
    began = Start(tablet, home)
    yield began
    began.front.end()


def damage(home: Path) -> None:
    """Write over the middle of the database, as a broken card does."""
    path = home / "lastrow.db"
    content = bytearray(path.read_bytes())
    middle = len(content) // 2
    content[middle : middle + 8192] = b"\xa5" * 8192
    content[100:108] = b"\xff" * 8
    path.write_bytes(bytes(content))


# --- the first frame, and the app as a process -------------------------------------------------


def run_app(home: Path, act: str) -> tuple[int, dict[str, Any]]:
    ended = subprocess.run(  # noqa: S603
        [sys.executable, "-m", "tests.ui.app_process", str(home), act],
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
        env={**os.environ, "KIVY_HOME": str(home.parent / "kivy")},
    )
    lines = [json.loads(line) for line in ended.stdout.splitlines() if line.startswith("{")]
    assert lines, ended.stderr
    return ended.returncode, {line["seen"]: line for line in lines}


def test_a_first_frame_is_there_before_anything_heavy_is_loaded(home: Path) -> None:
    code, seen = run_app(home, "stop")

    assert "Lastrow" in seen["splash"]["texts"]
    assert seen["splash"]["loaded"] == []
    assert "Day supervisor" in seen["who"]["texts"]
    assert code == 0


@pytest.mark.parametrize(("act", "size"), [("stop", LANDSCAPE), ("portrait", PORTRAIT)])
def test_the_window_opens_as_it_is_to_be_held(home: Path, act: str, size: tuple[int, int]) -> None:
    _, seen = run_app(home, act)

    assert tuple(seen["who"]["size"]) == size


def test_a_fault_of_the_program_is_logged_and_told_and_ends_it(home: Path) -> None:
    code, seen = run_app(home, "fault")

    told = seen["stop"]["texts"]
    assert "The program has a fault: ZeroDivisionError." in told
    assert any(text.startswith("Your draft is on the disk") for text in told)
    assert code == 1
    log = (home / "log" / "lastrow.log").read_text("utf-8")
    assert "ZeroDivisionError: division by zero" in log


def test_the_demo_opens_from_its_command(tmp_path: Path) -> None:
    """`python3 -m fieldapp demo` makes the mine and opens a window of its own."""
    home = demo_home(tmp_path / "home")
    command = [sys.executable, "-m", "fieldapp", "demo", "--home", str(home)]
    with subprocess.Popen(command) as app:  # noqa: S603
        try:
            found = window_named("Lastrow", app.pid)
            app.terminate()
            app.wait(timeout=20)
        finally:
            app.kill()

    assert found
    assert app.returncode == 0, "a window that is closed is no fault"


def window_named(name: str, pid: int) -> bool:
    if shutil.which("xdotool") is None:
        pytest.skip("xdotool is not installed: nothing else can see a window of another process")
    asked = ["xdotool", "search", "--sync", "--onlyvisible", "--pid", str(pid), "--name", name]
    ended = subprocess.run(asked, capture_output=True, timeout=30, check=False)  # noqa: S603
    return bool(ended.stdout.strip())


# --- what stands in the way --------------------------------------------------------------------


def test_the_splash_gives_way_to_who_is_here_and_then_the_board(start: Start) -> None:
    assert "Opening the records …" in start.tablet.texts()

    start.begin()
    start.sees("Who is here?")
    start.tablet.tap("Day supervisor")
    for key in ("1", "1", "1", "1", "Done"):
        start.tablet.tap(key)

    start.sees("4180 Main")
    assert "Shift board" in start.tablet.texts()


def back_up(home: Path) -> int:
    """Keep a backup as the app does; give how many entries there are."""
    with open_site(home, now=SetClock()).store as store:
        assert not keep_generation(store).troubles
        return store.check().entries


def test_a_damaged_database_is_told_and_comes_back_by_one_touch(start: Start) -> None:
    entries = back_up(start.home)
    damage(start.home)

    start.begin()
    start.sees("is damaged")
    told = start.tablet.texts()
    start.tablet.tap("Bring it back")
    start.sees(f"The records are back: {entries} entries.")
    start.tablet.tap("Go on")
    start.sees("Who is here?")

    assert any("can still be read" in text for text in told)
    assert "backup of 6 May 2031 09:30 UTC" in told
    assert start.front.shell is not None
    assert start.front.shell.site.store.check().entries == entries


def test_without_a_backup_what_can_be_read_comes_back(start: Start) -> None:
    damage(start.home)

    start.begin()
    start.sees("is damaged")
    assert "from what can be read" in start.tablet.texts()
    start.tablet.tap("Bring it back")
    start.sees("of them were read in the damaged one, kept in")
    start.tablet.tap("Go on")
    start.sees("Who is here?")


def test_a_database_that_is_gone_comes_back_from_its_backup(start: Start) -> None:
    entries = back_up(start.home)
    (start.home / DATABASE).unlink()

    start.begin()
    start.sees("is gone")
    start.tablet.tap("Bring it back")
    start.sees(f"The records are back: {entries} entries.")


def test_where_nothing_is_left_that_is_told(start: Start) -> None:
    (start.home / DATABASE).unlink()

    start.begin()
    start.sees("is gone")
    start.tablet.tap("Bring it back")

    start.sees("There is no good backup")


def test_a_torn_mine_comes_back_from_its_backup(start: Start) -> None:
    back_up(start.home)
    mine = start.home / MINE_FILE
    whole = mine.read_bytes()
    mine.write_bytes(whole[:30])

    start.begin()
    start.sees("mine.json is torn")
    start.tablet.tap("Bring it back")
    start.sees("The records are back")
    start.tablet.tap("Go on")
    start.sees("Who is here?")

    assert mine.read_bytes() == whole


def test_a_backup_is_kept_while_the_app_is_open(start: Start) -> None:
    start.begin()
    start.sees("Who is here?")
    shell = start.front.shell
    assert shell
    folder = start.home / BACKUPS

    BackingUp(shell).keep()

    start.tablet.until(lambda: bool(generations(folder)))


def test_what_stands_in_the_way_of_a_backup_is_told_once(
    start: Start, monkeypatch: pytest.MonkeyPatch
) -> None:
    start.begin()
    start.sees("Who is here?")
    shell = start.front.shell
    assert shell
    monkeypatch.setattr(shutil, "disk_usage", lambda _path: SimpleNamespace(free=0))
    backing_up = BackingUp(shell)

    backing_up.keep()
    start.sees("No backup of the records was kept: there is no room left")
    start.tablet.tap("Understood")
    backing_up.keep()
    let_finish()
    start.tablet.settle()

    assert not any("There is no room left" in text for text in start.tablet.texts())


def test_refused_settings_are_told_and_can_be_set_aside(start: Start) -> None:
    (start.home / SETTINGS_FILE).write_text("units = 'cubits'\n", "utf-8")

    start.begin()
    start.sees("can't be read: at units")
    start.tablet.tap("Use the defaults")
    start.sees("Who is here?")

    (aside,) = start.home.glob("settings-refused-*.toml")
    assert aside.read_text("utf-8") == "units = 'cubits'\n"


def test_a_home_that_is_no_folder_is_told_and_tried_again(tablet: Tablet, tmp_path: Path) -> None:
    home = tmp_path / "home"
    home.write_text("not a folder", "utf-8")
    start = Start(tablet, home)

    start.begin()
    start.sees("can't be used")
    home.unlink()
    tablet.tap("Try again")
    start.sees("No mine was started on this tablet")
    start.front.end()


def test_stop_is_offered_where_the_records_cannot_be_opened(start: Start) -> None:
    damage(start.home)
    told: list[object] = []
    start.front.bind(on_stop=told.append)

    start.begin()
    start.sees("is damaged")
    start.tablet.tap("Stop")

    assert told == [start.front]


@pytest.mark.parametrize("harm", ["none", "damage", "backed up and damaged", "settings"])
def test_the_start_has_no_fault(start: Start, harm: str) -> None:
    if harm == "backed up and damaged":
        back_up(start.home)
        damage(start.home)
    if harm == "damage":
        damage(start.home)
    if harm == "settings":
        (start.home / SETTINGS_FILE).write_text("units = 'cubits'\n", "utf-8")
    if harm != "none":
        start.begin()
        start.sees("Try again")

    assert faults_both_ways(start.tablet) == []
    if "damage" in harm:
        start.tablet.tap("Bring it back")
        start.sees("The records are back")
        assert faults_both_ways(start.tablet) == []
