"""A place apart for the tests: none of the person's settings, records or caches gets in."""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).resolve().parents[2]
XDG = ("CONFIG", "DATA", "STATE", "CACHE", "RUNTIME")
MEMORY = Path("/dev/shm")  # noqa: S108  the system's own place for what nobody keeps
ENOUGH_BYTES = 2 * 1024**3
DEMO = "demo"
MADE_ONCE = "LASTROW_DEMO_MADE"
"""The variable that names where all processes of one run find the demo mine."""
NOTES = "not-tried"
"""The file in which a test notes what it could not try here."""


@contextmanager
def place_apart() -> Iterator[Path]:
    """Give a folder that is gone afterwards."""
    with TemporaryDirectory(prefix="lastrow-tests-", ignore_cleanup_errors=True) as folder:
        yield Path(folder)


@contextmanager
def quick_place() -> Iterator[dict[str, str]]:
    """Give the variables by which tests write into memory, where the machine has room for it.

    Thousands of small records each wait for the disk otherwise. What the disk itself does is
    tried by the tests of faults, and those stay on it.
    """
    if not has_room(MEMORY):
        yield {}
        return
    with TemporaryDirectory(
        prefix="lastrow-tests-", dir=MEMORY, ignore_cleanup_errors=True
    ) as folder:
        yield {"TMPDIR": folder, MADE_ONCE: str(Path(folder) / DEMO)}


def has_room(place: Path) -> bool:
    """Tell whether a folder may be written and has room for what all tests make."""
    there = place.is_dir() and os.access(place, os.W_OK)
    return there and shutil.disk_usage(place).free >= ENOUGH_BYTES


def surroundings(
    folder: Path, environ: dict[str, str], quick: dict[str, str] | None = None
) -> dict[str, str]:
    """Make the environment of every test process: all that it may write lies in `folder`.

    The demo mine is copied from where the `quick` ones find it, so that it is made only once.
    No screen is named: only the tests of windows are given one.
    """
    theirs = ("LASTROW_", "KIVY_", "DISPLAY", "WAYLAND_DISPLAY")
    kept = {name: value for name, value in environ.items() if not name.startswith(theirs)}
    places = {
        "KIVY_HOME": "kivy",
        "TMPDIR": "tmp",
        "LASTROW_HOME": "home",
        **{f"XDG_{name}_{'DIR' if name == 'RUNTIME' else 'HOME'}": name.lower() for name in XDG},
    }
    for name in places.values():
        (folder / name).mkdir(mode=0o700, exist_ok=True)
    return {
        **kept,
        **{variable: str(folder / name) for variable, name in places.items()},
        "LASTROW_NOT_TRIED": str(folder / NOTES),
        MADE_ONCE: (quick or {}).get(MADE_ONCE, str(folder / DEMO)),
        "SDL_AUDIODRIVER": "dummy",
        "PYTHONUNBUFFERED": "1",
    }


def is_ci() -> bool:
    """Tell whether this is the machine that decides: there, what is missing fails."""
    return os.environ.get("CI", "").lower() in ("1", "true", "yes")
