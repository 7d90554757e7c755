"""From a fresh clone to a running program: nothing is assumed but Python itself.

`python3 -m fieldapp` and `python3 -m tests` both pass through `enter`. The first time it makes
the project's own ``.venv``, installs the project into it and goes on inside; afterwards it only
looks at a mark and goes on. Where the program was installed as a wheel, or runs in an
environment that has everything, it does nothing.

This folder uses the standard library only. This module is also read by Pythons that are too
old, so that they can say so: its syntax and annotations stay plain.
"""

import sys

OLDEST = (3, 11)
NEWEST = (3, 13)


def enter(extra: str = "", *, words: "list[str] | None" = None) -> None:
    """Go on inside the project's own environment; make it first where it is missing.

    `extra` names the optional dependencies that are needed too. `words` are those of a command
    that may open a window, which needs more of the system than a table does. Returns when the
    running Python has everything, otherwise this process is replaced or ends with its reason.
    """
    refusal = python_refusal(sys.version_info[:2])
    if refusal:
        sys.exit(refusal)
    from fieldapp.first_run import journey

    journey.enter(extra, words)


def python_refusal(version: "tuple[int, ...]") -> str:
    """Say why this Python can't be used, in three sentences; empty where it can."""
    if OLDEST <= version <= NEWEST:
        return ""
    return (
        "Lastrow runs on Python {} to {}; this is Python {}. "
        "Nothing was changed. "
        "Install one of those and type the command with its name, for example: "
        "python{} -m fieldapp demo"
    ).format(*(".".join(map(str, v)) for v in (OLDEST, NEWEST, version, NEWEST)))
