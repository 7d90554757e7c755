"""A place apart for the tests: none of the person's settings, records or caches gets in."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).resolve().parents[2]
XDG = ("CONFIG", "DATA", "STATE", "CACHE", "RUNTIME")
NOTES = "not-tried"
"""The file in which a test notes what it could not try here."""


@contextmanager
def place_apart() -> Iterator[Path]:
    """Give a folder that is gone afterwards."""
    with TemporaryDirectory(prefix="lastrow-tests-", ignore_cleanup_errors=True) as folder:
        yield Path(folder)


def surroundings(folder: Path, environ: dict[str, str]) -> dict[str, str]:
    """Make the environment of every test process: all that it may write lies in `folder`.

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
        "SDL_AUDIODRIVER": "dummy",
        "PYTHONUNBUFFERED": "1",
    }


def is_ci() -> bool:
    """Tell whether this is the machine that decides: there, what is missing fails."""
    return os.environ.get("CI", "").lower() in ("1", "true", "yes")
