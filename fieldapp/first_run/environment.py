"""Makes the project's ``.venv``, mends a half-made one, and brings an old one up to date."""

import contextlib
import importlib.util
import os
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from importlib.metadata import distributions
from pathlib import Path

from fieldapp.first_run import machine, mark
from fieldapp.first_run.installer import install
from fieldapp.first_run.telling import say
from schemas.trouble import DiskTrouble


@dataclass(eq=False)
class PlaceTaken(DiskTrouble):
    """Something else stands where the environment should be."""

    place: Path

    happened = "{place} is not a Python environment, but Lastrow wants to make its own there."
    kept = "It was left as it is."
    do_next = "Move it away, then type the same command again."


@dataclass(eq=False)
class PlaceRefused(DiskTrouble):
    """The folder of the project can't be written to."""

    place: Path
    reason: str

    happened = "{place} can't be made or changed: {reason}."
    kept = "Your records are elsewhere and untouched."
    do_next = "Make the folder writable or free some space, then type the same command again."


class State(Enum):
    """What stands at the environment's place."""

    NOTHING = "Nothing is there."
    HALF_MADE = "The last first run was cut short: the half-made environment is made anew."
    OTHER_PYTHON = "The environment is another Python's or was moved: it is made anew."
    OUT_OF_DATE = "What Lastrow stands on has changed: the environment is brought up to date."
    BY_HAND = "There is an environment made by hand: what it lacks is installed into it."
    NOT_OURS = "Something else is there."


def make(extra: str) -> None:
    """Make or mend the environment. Safe to repeat, safe to kill, one at a time."""
    started = time.monotonic()
    try:
        with _one_at_a_time():
            if not mark.fits(extra):
                _make(extra)
    except OSError as error:
        raise PlaceRefused(mark.VENV, error.strerror or str(error)) from error
    say(f"Ready after {time.monotonic() - started:.0f} s. From now on it starts at once.\n")


def _make(extra: str) -> None:
    state = state_of(mark.VENV)
    if state is State.NOT_OURS:
        raise PlaceTaken(mark.VENV)
    say("Lastrow sets itself up in .venv, once; this takes a minute or two.")
    if state is not State.NOTHING:
        say(f"  {state.value}")
    chosen = mark.extras(mark.read()) | ({extra} - {""})
    if state in (State.NOTHING, State.HALF_MADE, State.OTHER_PYTHON):
        machine.provide(machine.venv_needs())
        _build(mark.VENV)
    mark.begin(mark.VENV)
    install(mark.python_of(), mark.ROOT, sorted(chosen))
    mark.complete(chosen)


def state_of(venv: Path, recipe: Path = mark.RECIPE) -> State:
    """Look at what stands at the environment's place."""
    found = mark.read(venv)
    if found:
        asked = mark.wanted(recipe)
        moved = any(found.get(key) != asked[key] for key in ("python", "place"))
        return State.OTHER_PYTHON if moved or not _works(venv) else State.OUT_OF_DATE
    if (venv / mark.BEGUN).exists():
        return State.HALF_MADE
    if not venv.exists() or (venv.is_dir() and not any(venv.iterdir())):
        return State.NOTHING
    if not (venv / "pyvenv.cfg").exists():
        return State.NOT_OURS
    return State.BY_HAND if _works(venv) else State.OTHER_PYTHON


def _works(venv: Path) -> bool:
    """Tell whether the environment's Python runs, is of this version and has its installer."""
    question = "import sys, pip; print(*sys.version_info[:2], sep='.')"
    try:
        answer = subprocess.run(  # noqa: S603
            [mark.python_of(venv), "-c", question], capture_output=True, text=True, check=False
        )
    except OSError:
        return False
    return answer.stdout.strip() == mark.wanted()["python"]


def _build(venv: Path) -> None:
    """Make an empty environment with the Python that this one was made of."""
    say("  1. an environment of its own")
    if venv.exists():
        shutil.rmtree(venv)
    mark.begin(venv)
    python = getattr(sys, "_base_executable", "") or sys.executable
    made = subprocess.run(  # noqa: S603
        [python, "-m", "venv", str(venv)], capture_output=True, text=True, check=False
    )
    if made.returncode != 0:
        raise PlaceRefused(venv, (made.stderr or made.stdout).strip().splitlines()[-1])


@contextlib.contextmanager
def _one_at_a_time() -> Iterator[None]:
    """Wait while another terminal makes the same environment."""
    if importlib.util.find_spec("fcntl") is None:  # Windows: a second one fails on open files
        yield
        return
    import fcntl

    with mark.RECIPE.open("rb") as file:
        os.set_inheritable(file.fileno(), True)  # noqa: FBT003
        with contextlib.suppress(OSError):  # a folder on a server may know no locks
            try:
                fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                say("Another terminal is setting Lastrow up; waiting for it.")
                fcntl.flock(file, fcntl.LOCK_EX)
        yield


def has_project(extra: str) -> bool:
    """Tell whether the project and this extra are installed for the running Python.

    The checkout itself is not looked at: building leaves a description of the project there,
    which says nothing about what is installed.
    """
    paths = [path for path in sys.path if Path(path or os.curdir).resolve() != mark.ROOT]
    found = next(iter(distributions(name="lastrow", path=paths)), None)
    if found is None:
        return False
    marker = f'extra == "{extra}"'
    asked = (line.replace("'", '"') for line in found.requires or ())
    names = [re.split(r"[^\w.-]", line)[0] for line in asked if extra and marker in line]
    return all(any(True for _ in distributions(name=name, path=paths)) for name in names)
