"""What the first run decides, without a machine to decide it on."""

import os
import shutil
import subprocess
import sys
from functools import partial
from pathlib import Path

import pytest

from fieldapp import first_run
from fieldapp.first_run import environment, installer, journey, machine, mark
from fieldapp.first_run.environment import State
from fieldapp.first_run.telling import Ended, run_shown

THERE = partial(bool, 1)
NOT_THERE = partial(bool, 0)


@pytest.fixture
def recipe(tmp_path: Path) -> Path:
    path = tmp_path / "pyproject.toml"
    path.write_text("[project]\n")
    return path


@pytest.fixture
def venv(tmp_path: Path) -> Path:
    """A complete environment, as far as its files tell: its Python is this one."""
    place = tmp_path / ".venv"
    python = mark.python_of(place)
    python.parent.mkdir(parents=True)
    python.symlink_to(sys.executable)
    (place / "pyvenv.cfg").write_text("home = elsewhere\n")
    return place


# --- which Python ------------------------------------------------------------------------------


@pytest.mark.parametrize("version", [(3, 11), (3, 12), (3, 13)])
def test_these_pythons_are_taken(version: tuple[int, int]) -> None:
    assert first_run.python_refusal(version) == ""


@pytest.mark.parametrize("version", [(2, 7), (3, 10), (3, 14), (4, 0)])
def test_a_python_outside_is_named_with_those_that_are_taken(version: tuple[int, int]) -> None:
    told = first_run.python_refusal(version)

    assert f"this is Python {version[0]}.{version[1]}." in told
    assert "3.11 to 3.13" in told


def test_an_old_python_can_read_the_refusal() -> None:
    """Only what every Python since 3.0 knows may stand where the version is looked at."""
    import ast

    for path in ("fieldapp/__init__.py", "fieldapp/__main__.py", "fieldapp/first_run/__init__.py"):
        ast.parse((mark.ROOT / path).read_text(), feature_version=(3, 4))


def test_the_versions_are_those_of_the_project() -> None:
    import tomllib

    project = tomllib.loads(mark.RECIPE.read_text())["project"]
    oldest, newest = first_run.OLDEST, first_run.NEWEST

    assert project["requires-python"] == f">=3.{oldest[1]},<3.{newest[1] + 1}"


# --- the mark ----------------------------------------------------------------------------------


def test_a_complete_environment_fits(venv: Path, recipe: Path) -> None:
    mark.complete(set(), venv, recipe)

    assert mark.fits("", venv, recipe)


def test_an_environment_without_the_mark_does_not_fit(venv: Path, recipe: Path) -> None:
    assert not mark.fits("", venv, recipe)


def test_a_changed_list_of_parts_makes_the_mark_stale(venv: Path, recipe: Path) -> None:
    mark.complete(set(), venv, recipe)
    recipe.write_text("[project]\ndependencies = ['one-more']\n")

    assert not mark.fits("", venv, recipe)


def test_another_python_makes_the_mark_stale(venv: Path, recipe: Path) -> None:
    mark.complete(set(), venv, recipe)
    written = venv / mark.COMPLETE
    here = mark.wanted(recipe)["python"]
    written.write_text(written.read_text().replace(f"python={here}", "python=3.99"))

    assert not mark.fits("", venv, recipe)


def test_a_moved_checkout_makes_the_mark_stale(venv: Path, recipe: Path, tmp_path: Path) -> None:
    mark.complete(set(), venv, recipe)
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()

    assert not mark.fits("", venv, recipe.rename(elsewhere / recipe.name))


def test_an_environment_whose_python_is_gone_does_not_fit(venv: Path, recipe: Path) -> None:
    mark.complete(set(), venv, recipe)
    mark.python_of(venv).unlink()

    assert not mark.fits("", venv, recipe)


def test_the_app_needs_no_test_tools(venv: Path, recipe: Path) -> None:
    mark.complete(set(), venv, recipe)

    assert not mark.fits("dev", venv, recipe)


def test_an_environment_with_the_test_tools_serves_the_app_too(venv: Path, recipe: Path) -> None:
    mark.complete({"dev"}, venv, recipe)

    assert mark.fits("dev", venv, recipe)
    assert mark.fits("", venv, recipe)


def test_work_that_has_begun_takes_the_mark_away(venv: Path, recipe: Path) -> None:
    mark.complete({"dev"}, venv, recipe)
    mark.begin(venv)

    assert not mark.fits("", venv, recipe)


# --- what stands at the place ------------------------------------------------------------------


def test_nothing_there_is_a_first_run(tmp_path: Path) -> None:
    assert environment.state_of(tmp_path / ".venv") is State.NOTHING


def test_an_empty_folder_is_a_first_run(tmp_path: Path) -> None:
    (tmp_path / ".venv").mkdir()

    assert environment.state_of(tmp_path / ".venv") is State.NOTHING


def test_a_first_run_that_was_killed_is_seen(tmp_path: Path) -> None:
    mark.begin(tmp_path / ".venv")

    assert environment.state_of(tmp_path / ".venv") is State.HALF_MADE


def test_somebody_s_own_folder_is_left_alone(tmp_path: Path) -> None:
    place = tmp_path / ".venv"
    place.mkdir()
    (place / "letters.txt").touch()

    assert environment.state_of(place) is State.NOT_OURS


@pytest.fixture(scope="module")
def real_venv(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """An environment that a person made by hand."""
    place = tmp_path_factory.mktemp("by-hand") / ".venv"
    subprocess.run([sys.executable, "-m", "venv", str(place)], check=True)  # noqa: S603
    return place


def test_an_environment_made_by_hand_is_used(real_venv: Path) -> None:
    assert environment.state_of(real_venv) is State.BY_HAND


def test_a_stale_environment_of_this_python_is_brought_up_to_date(real_venv: Path) -> None:
    recipe = real_venv.parent / "pyproject.toml"
    recipe.write_text("[project]\ndependencies = []\n")
    mark.complete(set(), real_venv, recipe)
    recipe.write_text("[project]\ndependencies = ['one-more']\n")
    state = environment.state_of(real_venv, recipe)
    (real_venv / mark.COMPLETE).unlink()

    assert state is State.OUT_OF_DATE


def test_a_moved_environment_is_made_anew(real_venv: Path, tmp_path: Path) -> None:
    recipe = tmp_path / "pyproject.toml"
    recipe.write_text("[project]\n")
    mark.complete(set(), real_venv, recipe)
    state = environment.state_of(real_venv)
    (real_venv / mark.COMPLETE).unlink()

    assert state is State.OTHER_PYTHON


def test_an_environment_of_a_python_that_is_gone_is_made_anew(venv: Path) -> None:
    mark.python_of(venv).unlink()

    assert environment.state_of(venv) is State.OTHER_PYTHON


# --- windows and screens -----------------------------------------------------------------------


@pytest.mark.parametrize(
    ("environ", "platform", "screen"),
    [
        ({}, "linux", False),
        ({"DISPLAY": ""}, "linux", False),
        ({"DISPLAY": ":0"}, "linux", True),
        ({"WAYLAND_DISPLAY": "wayland-0"}, "linux", True),
        ({}, "win32", True),
        ({}, "darwin", True),
    ],
)
def test_a_screen_is_there_or_not(environ: dict[str, str], platform: str, screen: bool) -> None:  # noqa: FBT001
    assert journey.has_screen(environ, platform) is screen


@pytest.mark.parametrize(
    ("words", "window"),
    [
        ([], True),
        (["demo"], True),
        (["--home", "somewhere"], True),
        (["--home", "demo", "assess", "round.json"], False),
        (["demo", "--help"], False),
        (["--version"], False),
        (["assess", "demo"], False),
    ],
)
def test_only_some_commands_open_a_window(words: list[str], window: bool) -> None:  # noqa: FBT001
    assert journey.opens_a_window(words, {"DISPLAY": ":0"}, "linux") is window


def test_without_a_screen_the_demo_needs_no_opengl() -> None:
    assert not journey.opens_a_window(["demo"], {}, "linux")


# --- what the system lacks ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("tool", "line"),
    [
        ("apt-get", "sudo apt-get install -y libgl1 libgl1-mesa-dri xvfb"),
        ("dnf", "sudo dnf install -y mesa-libGL mesa-dri-drivers xorg-x11-server-Xvfb"),
        ("pacman", "sudo pacman -S --needed libglvnd mesa xorg-server-xvfb"),
        ("zypper", "sudo zypper install -y Mesa-libGL1 Mesa-dri xorg-x11-server-Xvfb"),
    ],
)
def test_each_package_tool_has_its_line(tool: str, line: str) -> None:
    needs = (machine.WINDOW[0], machine.WINDOW[-1], *machine.XVFB)
    packages = machine.packages_of(tool, needs)

    assert machine.line_to_type(tool, packages, root=False, sudo=True) == line


def test_the_line_fits_who_types_it() -> None:
    as_root = machine.line_to_type("apt-get", ["xvfb"], root=True, sudo=True)
    without_sudo = machine.line_to_type("apt-get", ["xvfb"], root=False, sudo=False)

    assert as_root == "apt-get install -y xvfb"
    assert without_sudo == 'su -c "apt-get install -y xvfb"'


def test_a_package_that_brings_two_things_is_named_once() -> None:
    assert machine.packages_of("pacman", machine.WINDOW[:2]) == ["libglvnd"]


def test_every_need_names_a_package_for_every_tool() -> None:
    for need in (*machine.WINDOW, *machine.XVFB, *machine.venv_needs()):
        assert len(need.packages) == len(machine.TOOLS), need.name


def test_what_is_missing_is_told_with_the_line_to_type() -> None:
    missing = machine.Need("a part", ("one", "two", "three", "four"), NOT_THERE)
    trouble = machine.trouble((missing,), "dnf")

    assert isinstance(trouble, machine.SystemPartMissing)
    assert trouble.below.endswith("dnf install -y two")


def test_an_unknown_system_is_told_what_it_lacks() -> None:
    missing = machine.Need("a part", ("one", "two", "three", "four"), NOT_THERE)
    trouble = machine.trouble((missing,), "")

    assert isinstance(trouble, machine.SystemPartUnknown)
    assert trouble.parts == "a part"


def test_what_is_there_is_not_asked_for() -> None:
    machine.provide((machine.Need("a part", ("no-such-package",) * 4, THERE),))


def test_a_library_is_there_when_the_loader_finds_it() -> None:
    assert not machine.has_library("libno-such-thing.so.9")


# --- the installer -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (
            "  Downloading numpy-2.4.6-cp311-cp311-manylinux_2_27_x86_64.whl (16.9 MB)",
            "fetched numpy 2.4.6, 16.9 MB",
        ),
        ("Using cached qrcode-8.2-py3-none-any.whl (45 kB)", "had qrcode 8.2, 45 kB"),
        ("  Downloading numpy-2.4.6-cp311-cp311-linux.whl.metadata (6.6 kB)", ""),
        ("Collecting numpy>=1.26", ""),
    ],
)
def test_the_installer_s_lines_are_made_readable(line: str, said: str) -> None:
    assert installer.Shown(Path("bin/python")).line(line) == said


def test_the_installer_counts_what_it_unpacks(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "lib/python3.11/site-packages/numpy-2.4.6.dist-info").mkdir(parents=True)
    shown = installer.Shown(tmp_path / "bin/python")
    shown.line("Installing collected packages: numpy, scipy, lastrow")

    assert "3 parts" in capsys.readouterr().err
    assert shown.meanwhile() == "1 unpacked"


@pytest.mark.parametrize(
    ("said", "kind"),
    [
        ("... NameResolutionError: failed to resolve", installer.NoNetwork),
        ("ERROR: [Errno 28] No space left on device", installer.DiskFull),
        ("ERROR: something else", installer.NotInstalled),
    ],
)
def test_the_reason_is_read_from_the_installer_s_words(said: str, kind: type) -> None:
    assert type(installer.reason(Ended(1, ("one line", said)))) is kind


def test_a_command_is_shown_line_by_line(capsys: pytest.CaptureFixture[str]) -> None:
    words = "print('one'); print('two'); raise SystemExit(7)"
    ended = run_shown([sys.executable, "-c", words], dict(os.environ), str.upper)

    assert ended == Ended(7, ("one", "two"))
    assert capsys.readouterr().err.split() == ["ONE", "TWO"]


# --- where nothing is to be done ---------------------------------------------------------------


def test_an_environment_that_has_everything_is_left_as_it_is() -> None:
    assert environment.has_project("")


def test_a_bare_python_has_not_the_project(tmp_path: Path) -> None:
    """The description that building leaves in the checkout does not count as installed."""
    for name in ("fieldapp/__init__.py", "schemas/__init__.py", "schemas/trouble.py"):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        shutil.copy(mark.ROOT / name, tmp_path / name)
    shutil.copytree(mark.ROOT / "fieldapp/first_run", tmp_path / "fieldapp/first_run")
    (tmp_path / "lastrow.egg-info").mkdir()
    (tmp_path / "lastrow.egg-info/PKG-INFO").write_text("Name: lastrow\nVersion: 0\n")
    words = "from fieldapp.first_run.environment import has_project; print(has_project(''))"
    run = subprocess.run(  # noqa: S603
        [sys.executable, "-S", "-c", words],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )

    assert run.stdout.strip() == "False", run.stderr
