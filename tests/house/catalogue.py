"""``python -m tests.house.catalogue``: gathers what the screens say for translators.

Texts stand in the program as ``_("…")`` or ``counted("…", "…", number)``, in a .py or a .kv, or
are put together in English by work and assess (`made_below`).
"""

import ast
import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from assets import TRANSLATIONS
from tests.house.made_below import listed, made_in
from tests.house.tree import files, name_of, syntax

TEMPLATE = TRANSLATIONS / "lastrow.pot"
HEAD = """\
# What the screens of Lastrow say. Made by python -m tests.house.catalogue; don't edit.
msgid ""
msgstr ""
"Content-Type: text/plain; charset=UTF-8\\n"
"Content-Transfer-Encoding: 8bit\\n"
"""
_IN_A_LOOK = re.compile(r"""\b_\(\s*("(?:[^"\\]|\\.)*"|'(?:[^'\\]|\\.)*')\s*\)""")


@dataclass(frozen=True, order=True)
class Text:
    """One text, with its second form where a number decides."""

    one: str
    several: str = ""


@cache
def template() -> str:
    """Give the whole template: texts in their order, each with the files that say it."""
    where: dict[Text, set[str]] = defaultdict(set)
    for path in files():
        if name_of(path).startswith("fieldapp/"):
            for text in texts_of(path):
                where[text].add(name_of(path))
            for made, place in made_in(path):
                where[Text(made)].add(place)
    for word, place in listed():
        where[Text(word)].add(place)
    return HEAD + "".join(_entry(text, sorted(where[text])) for text in sorted(where))


def texts_of(path: Path) -> Iterator[Text]:
    """Give the texts of one file."""
    if path.suffix == ".kv":
        for found in _IN_A_LOOK.finditer(path.read_text("utf-8")):
            yield Text(ast.literal_eval(found.group(1)))
    if path.suffix == ".py":
        yield from filter(None, map(_called, ast.walk(syntax(path))))


def _called(node: ast.AST) -> Text | None:
    name = getattr(getattr(node, "func", None), "id", "")
    if not isinstance(node, ast.Call) or name not in ("_", "counted"):
        return None
    said = [it.value for it in node.args if isinstance(it, ast.Constant)]
    words = [it for it in said if isinstance(it, str)]
    needed = 1 if name == "_" else 2
    return Text(*words[:needed]) if len(words) >= needed else None


def _entry(text: Text, places: list[str]) -> str:
    where = "".join(f"#: {place}\n" for place in places)
    if not text.several:
        return f'\n{where}msgid {_quoted(text.one)}\nmsgstr ""\n'
    forms = 'msgstr[0] ""\nmsgstr[1] ""\n'
    plural = f"msgid_plural {_quoted(text.several)}"
    return f"\n{where}msgid {_quoted(text.one)}\n{plural}\n{forms}"


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    return f'"{escaped}"'


if __name__ == "__main__":
    TEMPLATE.parent.mkdir(exist_ok=True)
    TEMPLATE.write_text(template(), encoding="utf-8")
