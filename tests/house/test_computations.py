"""A computation states units and source, and knows no clock, file or database."""

import ast
import inspect
import re
from pathlib import Path
from types import FunctionType

import pytest

from tests.house.tree import modules, name_of, sources, syntax

OUTSIDE = {
    "asyncio", "ftplib", "http", "io", "logging", "multiprocessing", "os",
    "pathlib", "pickle", "platform", "random", "secrets", "shutil", "socket", "sqlite3",
    "subprocess", "tempfile", "threading", "time", "urllib", "uuid",
}  # fmt: skip
READS_THE_WORLD = {"now", "today", "utcnow", "open", "read_text", "write_text", "getenv"}


def public_functions() -> list[FunctionType]:
    return [
        thing
        for module in modules("fieldapp.assess")
        for name, thing in vars(module).items()
        if inspect.isfunction(thing)
        and thing.__module__ == module.__name__
        and not name.startswith("_")
    ]


functions = pytest.mark.parametrize(
    "function", public_functions(), ids=lambda f: f"{f.__module__[16:]}.{f.__name__}"
)
assess_sources = pytest.mark.parametrize("source", sources("fieldapp/assess"), ids=name_of)


@functions
def test_a_computation_states_the_units_of_what_it_is_given(function: FunctionType) -> None:
    doc = inspect.getdoc(function) or ""
    for name in inspect.signature(function).parameters:
        stated = re.search(rf"^(\w+, )*{name}(, \w+)* : .+\n(    .*\n)*?    .*\[.+\]", doc, re.M)

        assert stated, f"write the unit of {name} as [unit] in its line under Parameters"


@functions
def test_a_computation_states_the_unit_of_its_result(function: FunctionType) -> None:
    doc = inspect.getdoc(function) or ""

    assert re.search(r"^Returns\n-+\n(.+\n)*?.*\[.+\]", doc, re.M), "Returns: write [unit]"


@functions
def test_a_computation_names_its_source(function: FunctionType) -> None:
    doc = inspect.getdoc(function) or ""

    assert re.search(r"^Source\n-+\n\S", doc, re.M), (
        "Source: standard, clause, year; or 'Common practice, no source.' or 'From memory.'"
    )


@assess_sources
def test_a_computation_knows_no_clock_file_or_database(source: Path) -> None:
    assert not _imported(syntax(source)) & OUTSIDE, "what it needs, it is given as a value"


@assess_sources
def test_a_computation_calls_nothing_outside(source: Path) -> None:
    called = {
        node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        for node in ast.walk(syntax(source))
        if isinstance(node, ast.Call)
    }

    assert not called & READS_THE_WORLD, "what it needs, it is given as a value"


def _imported(tree: ast.Module) -> set[str]:
    names: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names |= {alias.name.partition(".")[0] for alias in node.names}
        if isinstance(node, ast.ImportFrom):
            names.add((node.module or "").partition(".")[0])
    return names
