"""A published figure proves something only of a function that the app itself calls."""

import ast
from functools import cache
from pathlib import Path

import pytest

from tests.reference.values import VALUES

APP = Path(__file__).parents[2] / "fieldapp"
FUNCTIONS = {it.function.__name__: it.function.__module__ for it in VALUES}


@cache
def named_in_the_app() -> frozenset[str]:
    """Give every name that the app's code loads; an import or a definition alone is no use."""
    return frozenset(
        node.id if isinstance(node, ast.Name) else node.attr
        for path in APP.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text()))
        if isinstance(node, ast.Name | ast.Attribute)
    )


@pytest.mark.parametrize("name", sorted(FUNCTIONS))
def test_a_function_held_against_a_source_is_one_that_the_app_calls(name: str) -> None:
    assert FUNCTIONS[name].startswith("fieldapp.")
    assert name in named_in_the_app(), f"nothing in fieldapp calls {FUNCTIONS[name]}.{name}"


def test_at_least_150_figures_are_held_against_their_sources() -> None:
    assert len(VALUES) >= 150
