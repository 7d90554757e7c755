"""A look (.kv) sits beside its module and decides nothing."""

import re
from pathlib import Path

from tests.house.tree import files, name_of

LOOKS = [path for path in files() if path.suffix == ".kv"]


def words(look: Path) -> str:
    """Give the look without its comments."""
    return re.sub(r"(?m)^\s*#(?!:).*$", "", look.read_text("utf-8"))


def holding(pattern: str) -> list[str]:
    """Give the lines of all looks that match."""
    return [
        f"{name_of(look)}: {match.group().strip()}"
        for look in LOOKS
        for match in re.finditer(pattern, words(look), re.MULTILINE)
    ]


def test_there_are_looks() -> None:
    assert LOOKS, "no .kv was found: the rules for looks would hold of nothing"


def test_a_look_sits_beside_its_module() -> None:
    alone = [name_of(look) for look in LOOKS if not look.with_suffix(".py").exists()]

    assert not alone, "write the .py of the same name beside it"


def test_a_look_asks_no_running_app() -> None:
    assert not holding(r"^.*\bapp\..*$"), "bind to root; app is nobody's shortcut"


def test_a_look_makes_one_call_a_touch() -> None:
    assert not holding(r"^\s+on_\w+:\s*$"), "one call a touch; the rest is Python"
    assert not holding(r"^\s+on_\w+:.*;.*$"), "one call a touch; the rest is Python"


def test_a_look_decides_nothing() -> None:
    assert not holding(r"^.*\blambda\b.*$"), "write a method in the .py and call it"
    assert not holding(r"^\s*(if|for|while|def)\b.*:\s*$"), "decide in the .py"


def test_a_touch_forwards_and_weighs_nothing() -> None:
    assert not holding(r"^\s+on_\w+:.*\b(if|and|or|not)\b.*$"), "let the .py weigh it"
