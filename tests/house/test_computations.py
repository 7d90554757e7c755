"""A computation states units and source, and knows no clock, file or database."""

import ast
import inspect
import re
from collections.abc import Callable
from types import FunctionType

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


def lacking(states: Callable[[FunctionType], bool]) -> list[str]:
    """Name the computations that don't state something."""
    return [
        f"{function.__module__}.{function.__name__}"
        for function in public_functions()
        if not states(function)
    ]


def doc_of(function: FunctionType) -> str:
    return inspect.getdoc(function) or ""


def has_units(function: FunctionType) -> bool:
    """Tell whether each parameter stands under Parameters with its [unit]."""
    line = r"^(\w+, )*{}(, \w+)* : .+\n(    .*\n)*?    .*\[.+\]"
    return all(
        re.search(line.format(name), doc_of(function), re.MULTILINE)
        for name in inspect.signature(function).parameters
    )


def has_result_unit(function: FunctionType) -> bool:
    return bool(re.search(r"^Returns\n-+\n(.+\n)*?.*\[.+\]", doc_of(function), re.MULTILINE))


def has_source(function: FunctionType) -> bool:
    return bool(re.search(r"^Source\n-+\n\S", doc_of(function), re.MULTILINE))


def test_there_are_computations() -> None:
    assert len(public_functions()) > 20, "the rules for computations would hold of nothing"


def test_a_computation_states_the_units_of_what_it_is_given() -> None:
    assert not lacking(has_units), "under Parameters, write the [unit] of each"


def test_a_computation_states_the_unit_of_its_result() -> None:
    assert not lacking(has_result_unit), "under Returns, write the [unit]"


def test_a_computation_names_its_source() -> None:
    assert not lacking(has_source), (
        "under Source: standard, clause, year; or 'Common practice, no source.'; "
        "or 'From memory, to be checked.'"
    )


def test_a_computation_knows_no_clock_file_or_database() -> None:
    knowing = {
        name_of(source): _imported(syntax(source)) & OUTSIDE
        for source in sources("fieldapp/assess")
    }

    assert not {name: more for name, more in knowing.items() if more}, (
        "what it needs, it is given as a value"
    )


def test_a_computation_calls_nothing_outside() -> None:
    calling = {
        name_of(source): _called(syntax(source)) & READS_THE_WORLD
        for source in sources("fieldapp/assess")
    }

    assert not {name: more for name, more in calling.items() if more}, (
        "what it needs, it is given as a value"
    )


def _called(tree: ast.Module) -> set[str]:
    return {
        node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        for node in ast.walk(tree)
        if isinstance(node, ast.Call)
    }


def _imported(tree: ast.Module) -> set[str]:
    names: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names |= {alias.name.partition(".")[0] for alias in node.names}
        if isinstance(node, ast.ImportFrom):
            names.add((node.module or "").partition(".")[0])
    return names
