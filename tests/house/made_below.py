"""Texts that work and assess put together in English, and that screens and paper translate.

They are no `_("…")`: records are English in every language. What was made is recognised by its
template, so a catalogue has to hold every template, and every word that is picked from a list.
"""

import ast
import calendar
import re
from collections.abc import Iterator
from pathlib import Path
from typing import get_args

from fieldapp.assess.corrosion.lasting import Governs
from fieldapp.assess.entry.caps import State
from fieldapp.work.deviations import REASONS
from fieldapp.work.rehab.words import PICKED
from fieldapp.work.trends import MEASURES
from schemas.bodies.damage import Age, Cause, DamageKind, DamageZone, How, RockBehind
from schemas.bodies.event import Happened
from schemas.bodies.person import Role
from schemas.bodies.round import Basis, GroundSeen, Method, PlateGap
from schemas.bodies.sign_off import Decision
from schemas.bodies.walk import Answer, NotReached, SupportPart, Water
from schemas.corrosion_rules import Steel
from schemas.findings import Verdict
from schemas.walk_rules import LookedAtShare
from tests.house.tree import name_of, syntax

MAKERS = (
    "fieldapp/work/questions/",
    "fieldapp/work/asked.py",
    "fieldapp/work/sheets.py",
    "fieldapp/work/damage/questions.py",
    "fieldapp/work/damage/correcting.py",
    "fieldapp/work/bolt_tests/questions.py",
    "fieldapp/work/bolt_tests/pick.py",
    "fieldapp/work/bolt_tests/pulls.py",
    "fieldapp/work/bolt_tests/cores.py",
    "fieldapp/work/bolt_tests/put_right.py",
    "fieldapp/work/intersection/questions.py",
    "fieldapp/work/intersection/judged.py",
    "fieldapp/work/walk/questions.py",
    "fieldapp/work/walk/open_damage.py",
    "fieldapp/work/walk/things.py",
    "fieldapp/work/walk/readings.py",
    "fieldapp/work/walk/steel_questions.py",
    "fieldapp/work/board.py",
    "fieldapp/work/work_doubts.py",
    "fieldapp/work/share/shifts.py",
    "fieldapp/work/trends/",
    "fieldapp/assess/words.py",
    "fieldapp/assess/judge.py",
    "fieldapp/assess/shaken.py",
    "fieldapp/assess/entry/caps.py",
    "fieldapp/assess/bolt_tests/failed_support.py",
    "fieldapp/assess/entry/damage.py",
    "fieldapp/assess/entry/cables.py",
    "fieldapp/assess/entry/deviations.py",
    "fieldapp/assess/entry/stripped.py",
    "fieldapp/assess/entry/bare_ground.py",
    "schemas/bodies/round.py",
    "fieldapp/assess/damage/",
    "fieldapp/assess/sampling/statement.py",
    "fieldapp/assess/corrosion/doubted.py",
    "fieldapp/assess/corrosion/lasting.py",
    "fieldapp/work/walk/rate_words.py",
    "fieldapp/assess/walk/",
    "fieldapp/work/both_standards.py",
    "fieldapp/work/walk/rows_there.py",
    "fieldapp/work/walk/section_due.py",
    "fieldapp/work/walk/section_steel.py",
    "fieldapp/assess/times.py",
    "fieldapp/assess/checks/",
    "fieldapp/assess/mesh/",
    "fieldapp/assess/contradictions/",
    "fieldapp/report/words/damage.py",
    "fieldapp/report/drive/",
    "fieldapp/report/paint/frame.py",
    "fieldapp/report/paint/legend.py",
    "fieldapp/report/paint/panel.py",
    "fieldapp/report/words/entry.py",
    "fieldapp/report/round_sheet/",
    "fieldapp/report/words/findings.py",
)
SAID_AS = ("ask", "hint", "limit", "words", "fix", "settle", "beyond")
"""Keywords that take what is said; others take keys and states, which nobody reads."""
SAID_BY = (
    "Choice",
    "Letters",
    "Digits",
    "choice",
    "answer",
    "Breach",
    "Check",
    "mesh_place",
    "_cap",
    "_closed",
    "Beneath",
    "shut",
    "Cap",
    "Tag",
    "_Item",
    "append",
    "titled",
    "CrossLine",
    "broken",
    "set_line",
    "with_more",
    "sentence",
)
"""Calls whose plain texts are said."""
SAID_NAMES = (
    "before",
    "where",
    "left",
    "who",
    "answer",
    "reason",
    "settle",
    "CANT_SIGN",
    "CAUTIONS",
    "WHY_NEARER",
    "NOBODY",
    "AT_THE_FACE",
    "UNSUPPORTED",
    "NEVER",
    "PARTLY",
    "NO_MATRIX",
    "NOT_JUDGED",
    "UNDECIDED",
    "MEASURE",
    "NOT_KNOWN",
    "NOT_MEASURED",
    "NO_NOTE",
    "because",
    "ask",
    "hint",
    "_BOLTS",
    "said",
    "kind",
    "words",
    "MONTHS",
)
NEVER_SAID = re.compile(r"^[a-z]+(_[a-z]+)+$|%[A-Z]")
"""Names of checks, formats of times."""
LEAST_LETTERS = 2
LISTED: tuple[str, ...] = (
    *Verdict,
    *get_args(State),
    *get_args(Role),
    *get_args(Decision),
    *get_args(Method),
    *get_args(PlateGap),
    *get_args(Basis),
    *get_args(GroundSeen.model_fields["condition"].annotation),
    *get_args(DamageKind),
    *get_args(DamageZone),
    *get_args(RockBehind),
    *get_args(Cause),
    *get_args(Age),
    *get_args(How),
    *get_args(Governs),
    *get_args(Answer),
    *get_args(NotReached),
    *get_args(SupportPart),
    *get_args(Water),
    *get_args(Steel),
    *get_args(Happened),
    *get_args(LookedAtShare.model_fields["of"].annotation),
    *REASONS,
    *PICKED,
    *(it.title for it in MEASURES),
    *(it.unit for it in MEASURES),
    "{verdict}, under a deviation",
    "{verdict}, held as {held}",
    "{worst}, {count} not looked at",
    "{count} not looked at",
    "{n} of {m}",
    *calendar.day_name,
    "left wall",
    "right wall",
    "left shoulder",
    "right shoulder",
    "shoulder",
    "wall",
    "floor",
    "back",
    "old",
)
"""What records pick from a list, and what is made of it."""


def made_in(path: Path) -> Iterator[tuple[str, str]]:
    """Yield the texts and templates that a file makes, each with the file."""
    if name_of(path).startswith(MAKERS):
        for text in _texts(syntax(path)):
            if not NEVER_SAID.search(text) and _letters(text) >= LEAST_LETTERS:
                yield text, name_of(path)


def _letters(text: str) -> int:
    return sum(letter.isalpha() for letter in re.sub(r"\{\w+\}", "", text))


def listed() -> Iterator[tuple[str, str]]:
    """Yield the words that records pick from a list, and the names of the checks."""
    from fieldapp.assess.checks import CHECKS

    for word in LISTED:
        yield str(word), "schemas"
    for check in CHECKS:
        title = check.__name__.replace("_", " ").capitalize()
        yield title, f"fieldapp/assess/checks/{check.__name__}.py"


def _texts(tree: ast.Module) -> Iterator[str]:
    refused = {id(part) for node in ast.walk(tree) for part in _never_said(node)}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr) and id(node) not in refused:
            yield _template(node)
        for said in (*_handed_on(node), *_kept_for_later(node)):
            if isinstance(said, ast.Constant) and isinstance(said.value, str):
                yield said.value


def _never_said(node: ast.AST) -> Iterator[ast.AST]:
    """Yield every part of a node that nobody is told: keys, seeds of draws, refusals of bugs."""
    is_key = isinstance(node, ast.keyword) and node.arg == "key"
    is_key |= isinstance(node, ast.Assign) and any(_named(it) == "key" for it in node.targets)
    is_draw = isinstance(node, ast.Call) and _named(node.func) in ("_draw", "_counts_around")
    if isinstance(node, ast.Raise | ast.Compare) or is_key or is_draw:
        yield from ast.walk(node)


def _handed_on(node: ast.AST) -> Iterator[ast.AST]:
    """Yield what is said of what a node hands to a call or gives back."""
    values: list[ast.expr] = []
    if isinstance(node, ast.keyword) and node.arg in SAID_AS:
        values = [node.value]
    if isinstance(node, ast.Call) and _named(node.func) in SAID_BY:
        values = node.args
    if isinstance(node, ast.Return | ast.Yield) and node.value is not None:
        values = [node.value]
    for value in values:
        yield from _either(value)


def _kept_for_later(node: ast.AST) -> Iterator[ast.AST]:
    """Yield what is said of what a node names or lists."""
    if isinstance(node, ast.Assign) and any(_named(it) in SAID_NAMES for it in node.targets):
        yield from _either(node.value)
    if isinstance(node, ast.AnnAssign) and _named(node.target) in SAID_NAMES and node.value:
        yield from _either(node.value)
    if isinstance(node, ast.For) and isinstance(node.iter, ast.Tuple):
        yield from node.iter.elts
    if isinstance(node, ast.Dict):
        yield from filter(None, node.values)


def _named(node: ast.AST) -> str:
    return getattr(node, "id", getattr(node, "attr", ""))


def _either(value: ast.expr) -> Iterator[ast.AST]:
    """Yield what a value may be, and what a list of values holds."""
    inside: list[ast.expr] = []
    if isinstance(value, ast.IfExp):
        inside = [value.body, value.orelse]
    if isinstance(value, ast.BoolOp):
        inside = value.values
    if isinstance(value, ast.Tuple | ast.List):
        inside = value.elts
    for part in inside:
        yield from _either(part)
    yield value


def _template(node: ast.JoinedStr) -> str:
    names: dict[str, str] = {}
    parts = []
    for part in node.values:
        if isinstance(part, ast.Constant):
            parts.append(str(part.value))
        elif isinstance(part, ast.FormattedValue):
            source = ast.unparse(part.value)
            names.setdefault(source, _name(part.value, names))
            parts.append(f"{{{names[source]}}}")
    return "".join(parts)


def _name(value: ast.expr, taken: dict[str, str]) -> str:
    """Name a field as the program does: the last name that leads to its value."""
    found = [
        it.attr if isinstance(it, ast.Attribute) else it.id
        for it in ast.walk(value)
        if isinstance(it, ast.Attribute | ast.Name)
    ]
    name = found[0] if found else "value"
    same = sum(it.rstrip("0123456789") == name for it in taken.values())
    return f"{name}{same + 1}" if same else name
