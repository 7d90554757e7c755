"""A newcomer with a bare machine types the README's first command.

A fresh clone, a fresh home, no environment: the first run is killed half-way, repeated, and
then starts at once. It fetches the parts from the package index by ordinary pip.
"""

import os
import shutil
import signal
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.house.tree import ROOT, files, name_of
from tests.not_tried import not_tried

pytestmark = pytest.mark.slow

COMMAND = ("-m", "fieldapp", "--help")
HALF_WAY = "fetched"
ENDS_WITHIN_S = 600.0


@dataclass(frozen=True)
class Newcomer:
    """A person's clone and home, and their Python: the one that ours was made of."""

    clone: Path
    environ: dict[str, str]
    python: str

    def types(self, *words: str) -> "subprocess.CompletedProcess[str]":
        return subprocess.run(  # noqa: S603
            [self.python, *words],
            cwd=self.clone,
            env=self.environ,
            capture_output=True,
            text=True,
            check=False,
            timeout=ENDS_WITHIN_S,
        )

    def is_killed_half_way(self, *words: str) -> str:
        """Kill the command and all that it started as soon as it has fetched something."""
        child = subprocess.Popen(  # noqa: S603
            [self.python, *words],
            cwd=self.clone,
            env=self.environ,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
            start_new_session=True,
        )
        said = ""
        for line in child.stderr or ():
            said += line
            if HALF_WAY in line:
                break
        os.killpg(child.pid, signal.SIGKILL)
        child.communicate()
        return said


def cloned(place: Path) -> Path:
    """Clone the repository as it was last committed; an unpacked archive is copied."""
    git = shutil.which("git")
    if git and (ROOT / ".git").exists():
        subprocess.run([git, "clone", "--quiet", str(ROOT), str(place)], check=True)  # noqa: S603
        return place
    for path in files():
        (place / name_of(path)).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(path, place / name_of(path))
    return place


@pytest.fixture(scope="module")
def newcomer(tmp_path_factory: pytest.TempPathFactory) -> Newcomer:
    place = tmp_path_factory.mktemp("newcomer")
    (place / "home").mkdir()
    ours = ("PYTHON", "VIRTUAL_ENV", "XDG_", "LASTROW_", "KIVY_", "DISPLAY", "WAYLAND", "COVERAGE")
    kept = {name: value for name, value in os.environ.items() if not name.startswith(ours)}
    python = getattr(sys, "_base_executable", sys.executable)
    environ = {**kept, "HOME": str(place / "home")}
    return Newcomer(cloned(place / "clone"), environ, python)


@dataclass(frozen=True)
class Story:
    """What the newcomer saw, one after the other."""

    killed: str
    left_a_mark: bool
    repeated: "subprocess.CompletedProcess[str]"
    again: "subprocess.CompletedProcess[str]"


@pytest.fixture(scope="module")
def story(newcomer: Newcomer) -> Story:
    killed = newcomer.is_killed_half_way(*COMMAND)
    left_a_mark = (newcomer.clone / ".venv/lastrow-complete").exists()
    return Story(killed, left_a_mark, newcomer.types(*COMMAND), newcomer.types(*COMMAND))


def test_a_first_run_that_was_killed_is_not_taken_for_complete(story: Story) -> None:
    assert HALF_WAY in story.killed, f"it was not killed half-way; it said:\n{story.killed}"
    assert not story.left_a_mark


def test_the_same_command_again_mends_it_and_goes_on(story: Story) -> None:
    assert story.repeated.returncode == 0, story.repeated.stderr
    assert "cut short" in story.repeated.stderr


def test_the_first_run_shows_what_it_does(story: Story) -> None:
    lines = story.repeated.stderr.splitlines()

    assert any("unpacking" in line for line in lines)
    assert len(lines) > 20


def test_the_second_time_it_starts_at_once(story: Story) -> None:
    assert story.again.returncode == 0, story.again.stderr
    assert story.again.stderr == ""


def test_setting_up_leaves_the_command_s_own_output_alone(story: Story) -> None:
    assert story.again.stdout
    assert story.repeated.stdout == story.again.stdout


def test_setting_up_leaves_nothing_that_git_would_keep(newcomer: Newcomer, story: Story) -> None:
    assert story.again.returncode == 0
    git = shutil.which("git")
    if git is None or not (newcomer.clone / ".git").exists():
        not_tried("what a first run leaves for git", "this is no clone, or git is missing")
    status = subprocess.run(  # noqa: S603
        [git, "status", "--porcelain"], cwd=newcomer.clone, capture_output=True, check=True
    )

    assert status.stdout == b""
