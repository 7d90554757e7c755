"""A look (.kv) sits beside its module and decides nothing."""

import re
from pathlib import Path

import pytest

from tests.house.tree import files, name_of

LOOKS = [path for path in files() if path.suffix == ".kv"]

looks = pytest.mark.parametrize("look", LOOKS, ids=name_of)


def words(look: Path) -> str:
    """Give the look without its comments."""
    text = look.read_text(encoding="utf-8")
    return re.sub(r"(?m)^\s*#(?!:).*$", "", text)


def test_there_are_looks() -> None:
    assert LOOKS, "no .kv was found: the rules for looks would hold of nothing"


@looks
def test_a_look_sits_beside_its_module(look: Path) -> None:
    assert look.with_suffix(".py").exists(), f"write {look.stem}.py beside {look.name}"


@looks
def test_a_look_asks_no_running_app(look: Path) -> None:
    assert not re.search(r"\bapp\.", words(look)), "bind to root; app is nobody's shortcut"


@looks
def test_a_look_makes_one_call_a_touch(look: Path) -> None:
    text = words(look)

    assert not re.search(r"^\s+on_\w+:\s*$", text, re.M), "one call a touch; the rest is Python"
    assert not re.search(r"^\s+on_\w+:.*;", text, re.M), "one call a touch; the rest is Python"


@looks
def test_a_look_decides_nothing(look: Path) -> None:
    text = words(look)

    assert not re.search(r"\blambda\b", text), "write a method in the .py and call it"
    assert not re.search(r"^\s*(if|for|while|def)\b.*:\s*$", text, re.M), "decide in the .py"


@looks
def test_a_touch_forwards_and_weighs_nothing(look: Path) -> None:
    events = "\n".join(re.findall(r"^\s+on_\w+:(.*)$", words(look), re.M))

    assert not re.search(r"\b(if|and|or|not)\b", events), "let the .py weigh it"
