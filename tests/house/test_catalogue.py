"""Whether translators are given every text that the screens say, and no other."""

import re

from fieldapp.ui import translate
from tests.house.catalogue import TEMPLATE, Text, template, texts_of
from tests.house.made_below import MAKERS
from tests.house.tree import ROOT, sources, syntax


def test_the_translators_template_is_current() -> None:
    kept = TEMPLATE.read_text("utf-8") if TEMPLATE.exists() else ""

    assert kept == template(), "texts have changed: python -m tests.house.catalogue"


def test_looks_and_modules_are_both_gathered() -> None:
    texts = template()

    assert 'msgid "No entry"' in texts
    assert "#: fieldapp/ui/screens/shift_board.kv\n" in texts
    assert "#: fieldapp/ui/screens/sign_in.py\n" in texts


def test_the_modules_whose_texts_are_gathered_by_name_are_there() -> None:
    assert not [place for place in MAKERS if not (ROOT / place).exists()]


def test_a_text_is_never_put_together_before_it_is_looked_up() -> None:
    """A catalogue holds what stands in the program: f-strings are filled before it is asked."""
    import ast

    wrong = [
        f"{source.relative_to(ROOT)}:{node.lineno}"
        for source in sources("fieldapp/ui")
        for node in ast.walk(syntax(source))
        if isinstance(node, ast.Call)
        and getattr(node.func, "id", "") == "_"
        and node.args
        and isinstance(node.args[0], ast.JoinedStr)
    ]

    assert not wrong, "write _(...).format(...)"


def test_each_text_is_found_once_however_often_it_is_said() -> None:
    found = re.findall(r"(?m)^msgid (\".+\")$", template())

    assert len(found) == len(set(found))


def test_a_text_in_two_forms_is_gathered_whole() -> None:
    zones = ROOT / "fieldapp" / "ui" / "zones.py"

    assert Text("{} place", "{} places") in set(texts_of(zones))
    assert translate.counted("{} place", "{} places", 3) == "3 places"
