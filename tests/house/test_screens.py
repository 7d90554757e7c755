"""A screen: one .py, one .kv and one line in the list, all of one name."""

import ast
import re

from tests.house.tree import ROOT, syntax

FOLDER = ROOT / "fieldapp/ui/screens"


def listed() -> list[str]:
    """Read the names in the list without opening a window: `ShiftBoardScreen` is shift_board."""
    for node in syntax(FOLDER / "__init__.py").body:
        targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
        if any(getattr(target, "id", "") == "SCREENS" for target in targets):
            names = (part.id for part in ast.walk(node.value) if isinstance(part, ast.Name))  # type: ignore[attr-defined]
            return [snake(name.removesuffix("Screen")) for name in names]
    return []


def snake(name: str) -> str:
    return re.sub(r"(?<!^)(?=[A-Z])", "_", name).lower()


def test_every_screen_is_listed() -> None:
    filed = {path.stem for path in FOLDER.glob("*.py")} - {"__init__"}

    assert filed - set(listed()) == set(), "write its line in fieldapp/ui/screens/__init__.py"


def test_every_listed_screen_is_there() -> None:
    missing = [
        f"{name}{suffix}"
        for name in listed()
        for suffix in (".py", ".kv")
        if not (FOLDER / f"{name}{suffix}").exists()
    ]

    assert not missing, "write them in fieldapp/ui/screens, or take the line out of the list"


def test_no_screen_is_listed_twice() -> None:
    assert len(listed()) == len(set(listed())), "a screen stands twice in SCREENS"
    assert listed(), "SCREENS in fieldapp/ui/screens/__init__.py was not found"
