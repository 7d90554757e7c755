"""What a module is: short, of one subject, and with its hands off what is another's."""

import ast
import re
import subprocess
import sys
from functools import cache
from pathlib import Path

import pytest

from tests.house.tree import files, name_of, sources, syntax

LONGEST = 400
SAY_NOTHING = {"util", "utils", "helper", "helpers", "manager", "base", "impl", "data", "info"}
MAY_ASK_THE_ENVIRONMENT = ("fieldapp/start.py", "fieldapp/first_run/", "fieldapp/ui/surroundings")
MAY_START_THREADS = (
    "fieldapp/work/hands.py",  # in processes that compute: it ends them with their parent
    "fieldapp/ui/background.py",
    "fieldapp/first_run/telling.py",
)
STARTS_THREADS = {"Thread", "Timer", "ThreadPoolExecutor", "ProcessPoolExecutor", "Process"}
ASKS_THE_ENVIRONMENT = {"environ", "getenv", "expanduser"}
OUR_PLAIN_PARTS = {"fieldapp", "schemas"}


def texts() -> list[Path]:
    return [path for path in files() if path.suffix in (".py", ".kv")]


def test_a_module_fits_in_one_sitting() -> None:
    lines = {name_of(path): len(path.read_text("utf-8").splitlines()) for path in texts()}
    long = {name: count for name, count in lines.items() if count > LONGEST}

    assert not long, f"split by subject what has more than {LONGEST} lines"


def test_a_module_is_named_for_its_subject() -> None:
    poor = [name_of(path) for path in texts() if set(path.stem.split("_")) & SAY_NOTHING]

    assert not poor, "name it for what it is about, in the trade's words"


def test_a_class_is_named_for_what_it_is() -> None:
    poor = [
        f"{name_of(source)}: {node.name}"
        for source in sources()
        for node in ast.walk(syntax(source))
        if isinstance(node, ast.ClassDef)
        and {word.lower() for word in re.findall("[A-Z][a-z0-9]*", node.name)} & SAY_NOTHING
    ]

    assert not poor, "name it for what it is: a value, a port, what happened"


def test_only_the_wiring_asks_the_environment() -> None:
    asking = [
        name_of(source)
        for source in sources()
        if words_of(source) & ASKS_THE_ENVIRONMENT
        and not name_of(source).startswith(MAY_ASK_THE_ENVIRONMENT)
    ]

    assert not asking, "fieldapp/start.py reads the settings; take the value as an argument"


def test_only_one_place_starts_threads() -> None:
    starting = [
        name_of(source)
        for source in sources()
        if words_of(source) & STARTS_THREADS and not name_of(source).startswith(MAY_START_THREADS)
    ]

    assert not starting, "give the job to fieldapp/ui/background.py"


def test_the_first_run_needs_nothing_but_python() -> None:
    outside = {
        name_of(source): imported(source) - sys.stdlib_module_names - OUR_PLAIN_PARTS
        for source in sources("fieldapp/first_run")
    }

    assert not {name: more for name, more in outside.items() if more}, (
        "before the first run nothing is installed"
    )


@pytest.mark.parametrize("name", ["fieldapp", "schemas", "schemas.trouble"])
def test_what_the_first_run_borrows_needs_nothing_but_python(name: str) -> None:
    words = f"import sys; import {name}; print(*sys.modules)"
    run = subprocess.run(  # noqa: S603
        [sys.executable, "-c", words], capture_output=True, text=True, check=True
    )
    loaded = {module.partition(".")[0] for module in run.stdout.split()}
    outside = {"pydantic", "numpy", "kivy", "sqlalchemy", "typer", "click"}

    assert not loaded & outside, f"{name} is read before anything is installed"


@cache
def words_of(source: Path) -> set[str]:
    """Give every name that a module uses."""
    return {
        node.attr if isinstance(node, ast.Attribute) else getattr(node, "id", "")
        for node in ast.walk(syntax(source))
    }


def imported(source: Path) -> set[str]:
    """Give the first names of all that a module imports."""
    names: set[str] = set()
    for node in ast.walk(syntax(source)):
        if isinstance(node, ast.Import):
            names |= {alias.name.partition(".")[0] for alias in node.names}
        if isinstance(node, ast.ImportFrom):
            names.add((node.module or "").partition(".")[0])
    return names
