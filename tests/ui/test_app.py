"""From switching on to somebody at work: the first frame, and what may stand in the way."""

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from fieldapp.start import SETTINGS_FILE
from fieldapp.ui.front import Front
from tests.demo_mine import SetClock, demo_home
from tests.ui.harness import LANDSCAPE, PORTRAIT, Tablet
from tests.ui.uilint import faults

pytestmark = pytest.mark.window

both_ways = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])


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


def test_a_damaged_database_is_told_and_can_be_carried_over(start: Start) -> None:
    damage(start.home)

    start.begin()
    start.sees("is damaged")
    told = start.tablet.texts()
    start.tablet.tap("Carry on with what can be read")
    start.sees("carried over into a new database")
    start.tablet.tap("Go on")
    start.sees("Who is here?")

    assert any("can still be read" in text for text in told)
    assert start.front.shell is not None
    assert start.front.shell.site.store.check().entries > 0


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


@both_ways
@pytest.mark.parametrize("harm", ["none", "damage", "settings"])
def test_the_start_has_no_fault(start: Start, size: tuple[int, int], harm: str) -> None:
    start.tablet.turn(size)
    if harm == "damage":
        damage(start.home)
    if harm == "settings":
        (start.home / SETTINGS_FILE).write_text("units = 'cubits'\n", "utf-8")
    if harm != "none":
        start.begin()
        start.sees("Try again")

    assert faults(start.tablet) == []
