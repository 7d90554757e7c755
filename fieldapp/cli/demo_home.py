"""The home folder of the demo mine: made once, whole, and never mistaken for a real one."""

import shutil
from dataclasses import dataclass
from pathlib import Path

from schemas.trouble import NotAllowed

MADE = "demo.made"
"""Written when the story has been told to its end: a demo without it is made anew."""

MADE_TEXT = b"The invented Wrenfall mine. lastrow demo --fresh starts it over.\n"
STARTED = "demo.started"

OURS = (
    MADE,
    STARTED,
    "mine.json",
    "lastrow.db",
    "lastrow.db-journal",
    "lastrow.db-wal",
    "lastrow.db-shm",
    "lastrow.here",
    "settings.toml",
    "backups",
    "pages",
    "photos",
    "sheets",
)
"""What a demo mine leaves in its home. Nothing else in the folder is touched."""


@dataclass(eq=False)
class RealRecords(NotAllowed):
    """A demo was to be made where a real mine's records are."""

    home: str

    happened = "The folder {home} holds the records of a real mine, or something of its name."
    kept = "They are as they were."
    do_next = "Name another folder with --home, or leave it out: the demo mine has its own."


def is_made(home: Path) -> bool:
    """Tell whether a whole demo mine is there."""
    return (home / MADE).exists()


def mark_made(home: Path) -> None:
    """Say that the demo mine is whole."""
    from sync.durable import replace_file

    replace_file(home / MADE, MADE_TEXT)


def clear_demo(home: Path) -> None:
    """Take away a demo mine, whole or half made, and note that one is being made.

    Raises
    ------
    RealRecords
        What is there isn't a demo's.
    """
    from sync.durable import replace_file

    ours = is_made(home) or (home / STARTED).exists()
    if not ours and any((home / name).exists() for name in OURS):
        raise RealRecords(str(home))
    for name in OURS:
        _remove(home / name)
    home.mkdir(parents=True, exist_ok=True)
    replace_file(home / STARTED, b"A demo mine is being made in this folder.\n")


def _remove(path: Path) -> None:
    if path.is_dir():
        shutil.rmtree(path)
    else:
        path.unlink(missing_ok=True)
