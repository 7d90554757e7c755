"""Paths of folders on the glass, where a line breaks at spaces only, and a path has none."""

import re

_AFTER_A_NAME = re.compile(r"(?<=[/\\\\])")
LONGEST_WORD = 40
"""Letters that have room on one line of a tablet that is held upright."""


def path_words(path: str, most: int = 34) -> str:
    """Write a path on two lines at most, broken between names; the end matters most."""
    names = _AFTER_A_NAME.split(path)
    if len(path) <= most:
        return path
    lower = _last_of(names, most)
    upper = _last_of(names[: len(names) - len(lower)], most)
    left_out = len(lower) + len(upper) < len(names)
    return ("…" if left_out else "") + "".join(upper) + "\n" + "".join(lower)


def broken(text: str, most: int = LONGEST_WORD) -> str:
    """Break the long paths within a sentence between their names; everything stays."""
    return " ".join(_lines(word, most) for word in text.split(" "))


def _lines(word: str, most: int) -> str:
    lines = [""]
    for name in _AFTER_A_NAME.split(word):
        if lines[-1] and len(lines[-1]) + len(name) > most:
            lines.append("")
        lines[-1] += name
    return "\n".join(lines)


def _last_of(names: list[str], most: int) -> list[str]:
    """Give as many of the last names as have room on a line."""
    taken: list[str] = []
    for name in reversed(names):
        if taken and len(name) + sum(map(len, taken)) > most:
            break
        taken.insert(0, name)
    return taken
