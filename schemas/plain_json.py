"""Reads at the full speed of the library's parser what is plainly strict JSON.

Nearly every text that comes from another tablet is: it was written as canonical JSON. Whatever
is not plain at a glance is left to the reading that names what it refuses (`schemas.canonical`):
nothing is refused here, and nothing is let through that is refused there.
"""

import json
from typing import Any

LONGEST_SAFE_DIGITS = 15
"""Whole numbers of so many digits are below 2^53."""
_HOLDS = {dict, list}


class NotPlain(Exception):
    """Something may be odd; the slower reading tells."""


def read_plain(text: str, deepest: int) -> Any:
    """Read a text in which nothing can be odd.

    Parameters
    ----------
    text : str
        One JSON text.
    deepest : int
        How deep it may be nested.

    Raises
    ------
    NotPlain
        A key may stand there twice or be no ASCII, a number has a fraction or many digits, it
        is nested too deeply, escapes a letter, or is no JSON.
    """
    if "\\" in text or " :" in text or "\t:" in text or "\n:" in text or "\r:" in text:
        raise NotPlain
    try:
        value = _DECODER.decode(text)
    except (json.JSONDecodeError, RecursionError) as error:
        raise NotPlain from error
    # Every key's colon follows its quotation mark, since it follows no gap. Where there are no
    # more of those pairs than keys were kept, none of them stood there twice.
    if text.count('":') != _keys(value, deepest, ascii_only=text.isascii()):
        raise NotPlain
    return value


def _keys(value: Any, deepest: int, *, ascii_only: bool) -> int:
    """Count the keys, a level of nesting at a time."""
    found, level = 0, [value] if type(value) in _HOLDS else []
    for _ in range(deepest):
        if not level:
            break
        below: list[Any] = []
        for part in level:
            inside = part
            if type(part) is dict:
                if not (ascii_only or all(map(str.isascii, part))):
                    raise NotPlain
                found += len(part)
                inside = part.values()
            below += [it for it in inside if type(it) in _HOLDS]
        level = below
    if level:
        raise NotPlain
    return found


def _integer(digits: str) -> int:
    if len(digits) > LONGEST_SAFE_DIGITS:
        raise NotPlain
    return int(digits)


def _refuse(_digits: str) -> Any:
    raise NotPlain


_DECODER = json.JSONDecoder(parse_int=_integer, parse_float=_refuse, parse_constant=_refuse)
