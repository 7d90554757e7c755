"""Names places in a JSON text, so that a refusal can say where.

Paths are written as `$.rows[3].chainage_m`; a key that is no plain word stands in brackets
and quotes. Used by `schemas.canonical` only, on texts that are already known to be odd.
"""

import json
import re
from collections.abc import Sequence

# A string that never ends matches up to the end of the text: each letter is looked at once,
# whatever a hostile text holds.
_STRING = r'"[^"\\]*+(?:\\.[^"\\]*+)*+(?:"|\\?\Z)'
_MARKS = re.compile(_STRING + r"|[\[\]{},:]", re.DOTALL)
_NO_BRACKETS = re.compile(_STRING + r"|[^\[\]{}\"]++", re.DOTALL)
_PLAIN_KEY = re.compile(r"[A-Za-z_][A-Za-z0-9_]{0,59}")
_LONGEST_SHOWN_KEY = 60

Step = str | int


def path_of(steps: Sequence[Step]) -> str:
    """Write the steps from the root as one path, e.g. `$.rows[3].chainage_m`."""
    return "$" + "".join(map(_written, steps))


def too_deep(text: str, deepest: int) -> str | None:
    """Give the path of the first array or object nested deeper than `deepest`, if any.

    Looks at brackets only, before anything is parsed: a parser meets a million brackets
    with its call stack. Text that is no JSON is left to the parser to refuse.
    """
    return None if _is_flat(text, deepest) else _first_too_deep(text, deepest)


def _is_flat(text: str, deepest: int) -> bool:
    """Peel the innermost pairs of brackets, a level a time, as long as that is allowed."""
    brackets = _NO_BRACKETS.sub("", text)
    for _ in range(deepest):
        if not brackets:
            break
        brackets = brackets.replace("[]", "").replace("{}", "")
    return not brackets


def _first_too_deep(text: str, deepest: int) -> str | None:
    steps: list[Step] = []
    last_string = '""'
    for match in _MARKS.finditer(text):
        mark = match.group()
        if mark.startswith('"'):
            last_string = mark
        elif mark in "[{":
            steps.append(0 if mark == "[" else "")
            if len(steps) > deepest:
                return path_of(steps[:-1])
        elif not _moved(steps, mark, last_string):
            return None
    return None


def _moved(steps: list[Step], mark: str, last_string: str) -> bool:
    """Follow a closing bracket, a comma or a colon; False when it can't stand there."""
    if not steps:
        return False
    top = steps[-1]
    if mark in "]}":
        steps.pop()
    elif mark == "," and isinstance(top, int):
        steps[-1] = top + 1
    elif mark == ":" and isinstance(top, str):
        steps[-1] = _key(last_string)
    return True


def _key(quoted: str) -> str:
    try:
        return str(json.loads(quoted))
    except ValueError:
        return quoted


def _written(step: Step) -> str:
    if isinstance(step, int):
        return f"[{step}]"
    if _PLAIN_KEY.fullmatch(step):
        return f".{step}"
    shown = step if len(step) <= _LONGEST_SHOWN_KEY else step[:_LONGEST_SHOWN_KEY] + "…"
    return f"[{json.dumps(shown)}]"
