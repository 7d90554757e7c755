"""The test command counts what was run, and never makes a bad ending look good."""

import sys
import time
from pathlib import Path

import pytest

from tests.run import ending
from tests.run.lanes import Lanes, lanes_for
from tests.run.outcome import NO_TESTS, Outcome, outcome
from tests.run.parts import TOGETHER_BYTES, Part, parts_of
from tests.run.place import has_room, surroundings

PART = Part("house", ("tests/house",), window=False)


@pytest.fixture
def root(tmp_path: Path) -> Path:
    faults = ("faults/test_killed.py", "faults/test_share.py", "faults/test_torn.py")
    windows = ("ui/test_c.py", "ui/test_d.py")
    units = ("test_a.py", "work/rounds/test_e.py", "cli/test_f.py", "assess/test_g.py")
    unit = tuple(f"unit/{name}" for name in units)
    for name in ("house/test_b.py", *unit, *faults, *windows):
        path = tmp_path / "tests" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.touch()
    return tmp_path


def report(folder: Path, *skipped: str, **counts: int) -> Path:
    path = folder / "report.xml"
    facts = " ".join(f'{name}="{count}"' for name, count in counts.items())
    cases = "".join(f'<testcase><skipped message="{why}" /></testcase>' for why in skipped)
    path.write_text(f"<testsuites><testsuite {facts}>{cases}</testsuite></testsuites>")
    return path


def lengthen(path: Path, to_bytes: int) -> None:
    path.write_text("#" * to_bytes)


def test_short_files_of_windows_share_a_process(root: Path) -> None:
    (part,) = (part for part in parts_of([], root)[0] if part.window)

    assert part.paths == ("tests/ui/test_c.py", "tests/ui/test_d.py")
    assert part.name == "tests/ui/test_c.py and 1 more"


def test_long_files_of_windows_have_a_process_of_their_own(root: Path) -> None:
    for name in "cd":
        lengthen(root / f"tests/ui/test_{name}.py", TOGETHER_BYTES)

    assert [part.paths for part in parts_of([], root)[0] if part.window] == [
        ("tests/ui/test_c.py",),
        ("tests/ui/test_d.py",),
    ]


def test_everything_is_run_once(root: Path) -> None:
    parts, options = parts_of([], root)
    paths = [path for part in parts for path in part.paths]

    assert options == []
    assert sorted(paths) == [
        "tests/faults/test_killed.py",
        "tests/faults/test_share.py",
        "tests/faults/test_torn.py",
        "tests/house",
        "tests/ui/test_c.py",
        "tests/ui/test_d.py",
        "tests/unit/assess/test_g.py",
        "tests/unit/cli/test_f.py",
        "tests/unit/test_a.py",
        "tests/unit/work/rounds/test_e.py",
    ]


def test_paths_and_options_are_told_apart(root: Path) -> None:
    parts, options = parts_of(["tests/unit", "-k", "lap", "tests/ui/test_c.py::test_x"], root)

    assert options == ["-k", "lap"]
    assert [(part.paths, part.window) for part in parts] == [
        (("tests/unit",), False),
        (("tests/ui/test_c.py::test_x",), True),
    ]


def test_a_folder_of_windows_is_taken_whole(root: Path) -> None:
    parts, _ = parts_of(["tests/ui"], root)

    assert [path for part in parts for path in part.paths] == [
        "tests/ui/test_c.py",
        "tests/ui/test_d.py",
    ]


def test_long_files_of_windows_come_first(root: Path) -> None:
    lengthen(root / "tests/ui/test_c.py", 1)
    lengthen(root / "tests/ui/test_d.py", TOGETHER_BYTES)
    parts, _ = parts_of([], root)

    assert [part.name for part in parts if part.window] == [
        "tests/ui/test_d.py",
        "tests/ui/test_c.py",
    ]


def taken(parts: list[Part], screens: int) -> list[list[str]]:
    """Give what each lane would run if it were alone."""
    lanes = lanes_for(parts, [{"DISPLAY": f":{number}"} for number in range(screens)])
    return [[part.name for queue in lane.queues for part in queue] for lane in lanes]


FAULTS = Part("faults", ("tests/faults",), window=False)
WINDOW = Part("looks", ("tests/ui/test_looks.py",), window=True)


def test_with_a_screen_for_each_all_lanes_take_whatever_is_next() -> None:
    computing, windows, disk = taken([PART, FAULTS, WINDOW], 3)

    assert computing == ["house", "looks", "faults"]
    assert windows == ["looks", "house", "faults"]
    assert disk == ["faults", "house", "looks"]


def test_with_one_screen_one_window_is_open_at_a_time() -> None:
    plain, windows, disk = taken([PART, FAULTS, WINDOW], 1)

    assert (plain, windows) == (["house", "faults"], ["looks", "house", "faults"])
    assert disk == ["faults", "house"]


def test_unit_tests_are_in_several_parts_so_that_lanes_end_together(root: Path) -> None:
    parts, _ = parts_of([], root)

    assert [part.paths for part in parts if part.name.startswith("unit")] == [
        ("tests/unit/work/rounds/test_e.py",),
        ("tests/unit/cli/test_f.py",),
        ("tests/unit/assess/test_g.py", "tests/unit/test_a.py"),
    ]


def test_faults_are_in_several_parts_so_that_who_is_done_first_can_take_one(root: Path) -> None:
    parts, _ = parts_of([], root)

    assert [part.paths for part in parts if part.waits] == [
        ("tests/faults/test_killed.py",),
        ("tests/faults/test_share.py",),
        ("tests/faults/test_torn.py",),
    ]


def test_what_is_about_the_disk_stays_on_it() -> None:
    unit = Part("unit", ("tests/unit",), window=False)

    assert [part.disk for part in (FAULTS, PART, unit, WINDOW)] == [True, True, False, False]


def test_kills_and_shares_are_tried_in_memory_and_power_cuts_on_the_disk(root: Path) -> None:
    parts, _ = parts_of([], root)

    assert [part.disk for part in parts if part.waits] == [False, False, True]


def test_no_room_is_found_where_nothing_may_be_written(tmp_path: Path) -> None:
    assert not has_room(tmp_path / "missing")


HANGS_IN_A_TEST = """
import subprocess, sys, threading
def test_waits_for_ever():
    subprocess.Popen([sys.executable, "-c", "import time; time.sleep(600)"])
    threading.Event().wait()
"""
HANGS_AFTER_ITS_TESTS = """
import atexit, time
def test_passes():
    atexit.register(time.sleep, 600)
"""
ENDS_SOON_S = 60


def ran(folder: Path, words: str, *options: str, ends_within_s: float) -> tuple[Outcome, str]:
    """Run these tests as a part of the suite is run; give what it came to and what was said."""
    path = folder / "test_it.py"
    path.write_text(words)
    said: list[str] = []
    environ = surroundings(folder, {"PATH": ""})
    lanes = Lanes(environ, {}, [{}], list(options), folder, said.append, ends_within_s)
    (came_to,) = lanes.run([Part("it", (str(path),), window=False)])
    return came_to, "\n".join(said)


def test_a_test_that_hangs_is_ended_and_says_where(tmp_path: Path) -> None:
    started = time.monotonic()
    soon = ("-o", "faulthandler_timeout=1")
    came_to, said = ran(tmp_path, HANGS_IN_A_TEST, *soon, ends_within_s=ENDS_SOON_S)

    assert (came_to.passed, came_to.failed) == (0, 1)
    assert "test_waits_for_ever" in said
    assert time.monotonic() - started < ENDS_SOON_S  # nor does what it left behind hold us up


@pytest.mark.skipif(sys.platform == "win32", reason="there a process can't be asked where it is")
def test_a_part_that_hangs_after_its_tests_is_ended_and_counts_as_failed(tmp_path: Path) -> None:
    came_to, said = ran(tmp_path, HANGS_AFTER_ITS_TESTS, ends_within_s=4)

    assert (came_to.passed, came_to.failed) == (1, 1)
    assert "it was ended: it hung for 4 s." in said


def test_a_part_is_counted_from_its_report(tmp_path: Path) -> None:
    counted = outcome(PART, report(tmp_path, "no glove", tests=9, failures=2, errors=1), 1, 0.0)

    assert (counted.passed, counted.failed, counted.skipped) == (5, 3, ("no glove",))


def test_a_process_that_died_counts_as_failed(tmp_path: Path) -> None:
    counted = outcome(PART, tmp_path / "never-written.xml", -11, 0.0)

    assert (counted.passed, counted.failed) == (0, 1)


def test_a_process_that_died_after_its_report_counts_as_failed(tmp_path: Path) -> None:
    counted = outcome(PART, report(tmp_path, tests=9), -11, 0.0)

    assert (counted.passed, counted.failed) == (9, 1)


def test_a_torn_report_counts_as_failed(tmp_path: Path) -> None:
    (tmp_path / "report.xml").write_text("<testsuites><testsu")

    assert outcome(PART, tmp_path / "report.xml", 0, 0.0).failed == 1


def test_an_empty_choice_is_nobody_s_failure(tmp_path: Path) -> None:
    counted = outcome(PART, report(tmp_path, tests=0), NO_TESTS, 0.0)

    assert ending.totals([counted], 0, strict=True).nothing()


def test_the_closing_line_sums_up() -> None:
    outcomes = [Outcome(PART, 3, 0, (), 1.0), Outcome(PART, 4, 1, ("a", "b"), 1.0)]

    assert ending.totals(outcomes, 1, strict=False).line() == "7 passed, 1 failed, 2 skipped"


def test_what_was_not_tried_has_failed_where_nothing_may_be_missing() -> None:
    outcomes = [Outcome(PART, 3, 0, ("no glove",), 1.0)]

    assert ending.totals(outcomes, 2, strict=True).line() == "3 passed, 3 failed"


def test_the_last_page_gives_the_reason_of_what_was_skipped() -> None:
    page = ending.last_page([Outcome(PART, 3, 0, ("no glove",), 1.0)], [], strict=True)

    assert "  house: no glove (counts as failed here)" in page


def test_the_last_page_says_once_what_a_test_noted() -> None:
    skipped = ("a loop disk was not tried here: only root may mount",)
    noted = ["a loop disk: only root may mount"]
    page = ending.last_page([Outcome(PART, 3, 0, skipped, 1.0)], noted, strict=False)

    assert [line for line in page if "loop disk" in line] == ["  a loop disk: only root may mount"]


def test_what_was_not_tried_is_told_once(tmp_path: Path) -> None:
    notes = tmp_path / "notes"
    notes.write_text("a loop device: none here\na loop device: none here\n")

    assert ending.not_tried(notes) == ["a loop device: none here"]


def test_tests_see_nothing_of_the_person_s(tmp_path: Path) -> None:
    theirs = {"LASTROW_HOME": "/their/own", "LASTROW_UNITS": "feet", "KIVY_HOME": "/their/kivy"}
    theirs |= {"DISPLAY": ":0"}
    environ = surroundings(tmp_path, theirs)
    places = ("LASTROW_HOME", "KIVY_HOME", "XDG_DATA_HOME", "XDG_RUNTIME_DIR", "TMPDIR")

    assert not {"LASTROW_UNITS", "DISPLAY"} & set(environ)
    assert all(Path(environ[name]).is_relative_to(tmp_path) for name in places)
