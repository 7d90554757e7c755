"""What is installed: the four packages with all that lies in them, and no tests."""

import shutil
import subprocess
import sys
import zipfile
from importlib.metadata import PackageNotFoundError, version

import pytest

from tests.house.tree import PACKAGES, files, name_of

LEAST_SETUPTOOLS = 77


def own_setuptools() -> bool:
    """Tell whether this environment can build without fetching anything."""
    try:
        return int(version("setuptools").partition(".")[0]) >= LEAST_SETUPTOOLS
    except PackageNotFoundError:
        return False


@pytest.fixture(scope="module")
def names(tmp_path_factory: pytest.TempPathFactory) -> set[str]:
    """The names in a wheel that was built from a copy: building leaves things about."""
    copy = tmp_path_factory.mktemp("checkout")
    for path in files():
        place = copy / name_of(path)
        place.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, place)
    built = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "pip", "wheel", "--no-deps", "--wheel-dir", str(built)]
    isolated = ["--no-build-isolation"] if own_setuptools() else []
    run = subprocess.run(  # noqa: S603
        [*command, *isolated, str(copy)], capture_output=True, text=True, check=False
    )
    assert run.returncode == 0, run.stdout + run.stderr
    [wheel] = built.glob("lastrow-*.whl")
    with zipfile.ZipFile(wheel) as archive:
        return set(archive.namelist())


def kept(*suffixes: str) -> set[str]:
    """Give the names of the files of the four packages, of these kinds."""
    places = tuple(f"{package}/" for package in PACKAGES)
    return {
        name_of(path)
        for path in files()
        if name_of(path).startswith(places) and (not suffixes or path.suffix in suffixes)
    }


@pytest.mark.parametrize("suffix", [".py", ".kv", ".json", ".ttf", ".mako", ".mo", ".wav", ".png"])
def test_the_wheel_holds_every_file_of(suffix: str, names: set[str]) -> None:
    missing = sorted(kept(suffix) - names)

    assert not missing, "add the kind to [tool.setuptools.package-data] in pyproject.toml"


def test_the_wheel_holds_all_that_lies_in_the_packages(names: set[str]) -> None:
    assert not sorted(kept() - names), "[tool.setuptools.package-data] in pyproject.toml"


@pytest.mark.parametrize("package", PACKAGES)
def test_the_wheel_says_that_it_is_typed(package: str, names: set[str]) -> None:
    assert f"{package}/py.typed" in names


def test_the_wheel_holds_the_ways_from_one_database_to_the_next(names: set[str]) -> None:
    assert any(name.startswith("fieldapp/store/migrations/versions/") for name in names)


def test_the_wheel_holds_no_tests(names: set[str]) -> None:
    tops = {name.partition("/")[0] for name in names}
    ours = {top for top in tops if not top.startswith("lastrow-")}

    assert ours == set(PACKAGES)
