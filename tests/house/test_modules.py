"""What a module is: short, of one subject, and with its hands off what is another's."""

import ast
import re
from pathlib import Path

import pytest

from tests.house.tree import files, name_of, sources, syntax

LONGEST = 400
SAY_NOTHING = {"util", "utils", "helper", "helpers", "manager", "base", "impl", "data", "info"}
MAY_ASK_THE_ENVIRONMENT = ("fieldapp/start.py", "fieldapp/first_run/", "fieldapp/ui/surroundings")
MAY_START_THREADS = ("fieldapp/ui/background.py", "fieldapp/first_run/telling.py")
STARTS_THREADS = {"Thread", "Timer", "ThreadPoolExecutor", "ProcessPoolExecutor", "Process"}
STANDARD_LIBRARY_ONLY = "fieldapp/first_run/"
OUR_PLAIN_PARTS = {"fieldapp", "schemas"}

ours = pytest.mark.parametrize("source", sources(), ids=name_of)
texts = pytest.mark.parametrize(
    "path",
    [p for p in files() if p.suffix in (".py", ".kv") and name_of(p).partition("/")[0] != "docs"],
    ids=name_of,
)


@texts
def test_a_module_fits_in_one_sitting(path: Path) -> None:
    lines = len(path.read_text(encoding="utf-8").splitlines())

    assert lines <= LONGEST, f"{lines} lines: split it by subject"


@texts
def test_a_module_is_named_for_its_subject(path: Path) -> None:
    words = set(path.stem.split("_"))

    assert not words & SAY_NOTHING, "name it for what it is about, in the trade's words"


@ours
def test_a_class_is_named_for_what_it_is(source: Path) -> None:
    names = [node.name for node in ast.walk(syntax(source)) if isinstance(node, ast.ClassDef)]
    poor = [
        name
        for name in names
        if {word.lower() for word in re.findall("[A-Z][a-z0-9]*", name)} & SAY_NOTHING
    ]

    assert not poor, "name it for what it is: a value, a port, what happened"


@ours
def test_only_the_wiring_asks_the_environment(source: Path) -> None:
    asked = {
        node.attr
        for node in ast.walk(syntax(source))
        if isinstance(node, ast.Attribute) and node.attr in ("environ", "getenv", "expanduser")
    }

    if not name_of(source).startswith(MAY_ASK_THE_ENVIRONMENT):
        assert not asked, "fieldapp/start.py reads the settings; take the value as an argument"


@ours
def test_only_one_place_starts_threads(source: Path) -> None:
    named = {
        node.attr if isinstance(node, ast.Attribute) else getattr(node, "id", "")
        for node in ast.walk(syntax(source))
    }

    if not name_of(source).startswith(MAY_START_THREADS):
        assert not named & STARTS_THREADS, "give the job to fieldapp/ui/background.py"


@pytest.mark.parametrize("source", sources(STANDARD_LIBRARY_ONLY.rstrip("/")), ids=name_of)
def test_the_first_run_needs_nothing_but_python(source: Path) -> None:
    import sys

    outside = imported(source) - sys.stdlib_module_names - OUR_PLAIN_PARTS

    assert not outside, "before the first run nothing is installed"


@pytest.mark.parametrize("name", ["fieldapp", "schemas", "schemas.trouble"])
def test_what_the_first_run_borrows_needs_nothing_but_python(name: str) -> None:
    import subprocess
    import sys

    words = f"import sys; import {name}; print(*sys.modules)"
    run = subprocess.run(  # noqa: S603
        [sys.executable, "-c", words], capture_output=True, text=True, check=True
    )
    loaded = {module.partition(".")[0] for module in run.stdout.split()}
    outside = {"pydantic", "numpy", "kivy", "sqlalchemy", "typer", "click"}

    assert not loaded & outside, f"{name} is read before anything is installed"


def imported(source: Path) -> set[str]:
    """Give the first names of all that a module imports."""
    names: set[str] = set()
    for node in ast.walk(syntax(source)):
        if isinstance(node, ast.Import):
            names |= {alias.name.partition(".")[0] for alias in node.names}
        if isinstance(node, ast.ImportFrom):
            names.add((node.module or "").partition(".")[0])
    return names
