"""Bytes that everybody writes alike, and JSON that is read without mercy.

What is hashed and signed is written by `canonical_bytes` (RFC 8785) from a subset of JSON
on which no two programs can differ: no fractions (measured values are strings), no integer
beyond 2^53 - 1, keys in ASCII. What comes from outside is read by `parse_json`, which names
the place and the reason of the first thing that it refuses.
"""

import hashlib
import json
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, TypeAlias

import rfc8785

from schemas.json_places import Step, path_of, too_deep
from schemas.plain_json import LONGEST_SAFE_DIGITS, NotPlain, read_plain
from schemas.trouble import BadInput

JsonValue: TypeAlias = "str | int | bool | list[JsonValue] | dict[str, JsonValue] | None"
JsonObject: TypeAlias = "dict[str, JsonValue]"

LARGEST_INTEGER = 2**53 - 1
DEEPEST = 32
LARGEST_BYTES = 4 * 1024 * 1024


@dataclass(eq=False)
class Unreadable(BadInput):
    """A JSON text holds something that can't be taken as it is."""

    source: str
    path: str
    reason: str
    happened = "{source} can't be read: at {path}, {reason}."
    kept = "Nothing was taken from it; what is stored on this tablet is untouched."
    do_next = "Put right what stands at {path}, or ask for a new copy of it."


@dataclass(eq=False)
class NotJson(Unreadable):
    """A text is no JSON at all from some line on."""

    line: int
    happened = "{source} can't be read: it is no JSON from line {line} on, {reason}."
    do_next = "Put line {line} right, or ask for a new copy of it."


def canonical_bytes(value: "JsonValue | Mapping[str, JsonValue]") -> bytes:
    """Write a value as canonical JSON (RFC 8785), refusing what programs might write apart.

    Strings are written as they are: text is brought to Unicode's normal form C where a
    person's words come in (`in_normal_form`), never while something is hashed.

    Raises
    ------
    ValueError
        A float, an integer beyond 2^53 - 1, half a surrogate pair, a key that is not
        ASCII, or a type that JSON doesn't know. A bug of the caller.
    """
    refusal = next(_not_canonical(value, ()), None)
    if refusal:
        path, reason = refusal
        raise ValueError(f"no canonical JSON: at {path}, {reason}")
    return rfc8785.dumps(value)


def in_normal_form(value: JsonValue) -> JsonValue:
    """Give a copy with every text in Unicode's normal form C, so that alike is equal."""
    if isinstance(value, str):
        return unicodedata.normalize("NFC", value)
    if isinstance(value, list):
        return [in_normal_form(item) for item in value]
    if isinstance(value, dict):
        return {key: in_normal_form(item) for key, item in value.items()}
    return value


def revision_of(line: bytes) -> str:
    """Give the name of an entry's line: its SHA-256 in hexadecimal."""
    return hashlib.sha256(line).hexdigest()


def parse_json(raw: bytes, *, source: str) -> JsonValue:
    """Read one JSON text strictly.

    Parameters
    ----------
    raw : bytes
        The text as it came.
    source : str
        What it is called when a person is told about it: a file, "entry 17".

    Raises
    ------
    Unreadable
        Larger than 4 MB, not UTF-8, nested deeper than 32, a key twice or not in ASCII, a
        number with a fraction or an exponent, NaN, an integer beyond 2^53 - 1, half a
        surrogate pair.
    NotJson
        No JSON, or more than one JSON value.
    """
    text = _text(raw, source)
    try:
        plain: JsonValue = read_plain(text, DEEPEST)
    except NotPlain:
        return _read_carefully(text, source)
    return plain


def _read_carefully(text: str, source: str) -> JsonValue:
    """Read a text that may hold something odd, and name that where it does."""
    if path := too_deep(text, DEEPEST):
        raise Unreadable(source, path, f"it is nested deeper than {DEEPEST} levels")
    try:
        value: JsonValue = _decoded(_QUICK, text, source)
    except _Odd:
        value = None
        _refuse_the_first(_decoded(_SLOW, text, source), source)
    if "\\u" in text:  # only an escape can bring in half a pair: UTF-8 has none
        _refuse_the_first(value, source)
    return value


def _decoded(decoder: json.JSONDecoder, text: str, source: str) -> Any:
    """Read a text; what comes after something odd may be no JSON either."""
    try:
        return decoder.decode(text)
    except json.JSONDecodeError as error:
        raise NotJson(source, "$", f"{error.msg}, column {error.colno}", error.lineno) from error


def _text(raw: bytes, source: str) -> str:
    if len(raw) > LARGEST_BYTES:
        raise Unreadable(source, "$", "it is larger than 4 MB")
    if raw.startswith(b"\xef\xbb\xbf"):
        raise Unreadable(source, "$", "it starts with a byte order mark; save it without one")
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError as error:
        reason = f"byte {error.start} is not part of UTF-8 text"
        raise Unreadable(source, "$", reason) from error


# What may be odd is read quickly again, and then, where it is, once more with what is odd left
# standing in the tree, to find where it stands.


class _Odd(Exception):
    """Something that the quick reading only knows to be somewhere."""


@dataclass(frozen=True)
class _Refused:
    """A number as it stood in the text."""

    reason: str


@dataclass(frozen=True)
class _Pairs:
    """An object as it stood in the text, keys in order and perhaps twice."""

    pairs: list[tuple[str, Any]]


def _quick_integer(digits: str) -> int:
    if len(digits) > LONGEST_SAFE_DIGITS and not _is_safe(digits):
        raise _Odd
    return int(digits)


def _is_safe(digits: str) -> bool:
    return len(digits) <= len(str(-LARGEST_INTEGER)) and abs(int(digits)) <= LARGEST_INTEGER


def _quick_object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) != len(pairs) or not all(map(str.isascii, found)):
        raise _Odd
    return found


def _quick_refusal(_digits: str) -> Any:
    raise _Odd


def _slow_integer(digits: str) -> int | _Refused:
    reason = f"the whole number {digits[:20]}… is beyond 2^53 - 1"
    return int(digits) if _is_safe(digits) else _Refused(reason)


def _slow_fraction(digits: str) -> _Refused:
    reason = f'{digits[:40]} is written as a bare number; measured values are text, like "1.40"'
    return _Refused(reason)


def _slow_constant(word: str) -> _Refused:
    return _Refused(f"{word} is no value")


_QUICK = json.JSONDecoder(
    object_pairs_hook=_quick_object,
    parse_int=_quick_integer,
    parse_float=_quick_refusal,
    parse_constant=_quick_refusal,
)
_SLOW = json.JSONDecoder(
    object_pairs_hook=_Pairs,
    parse_int=_slow_integer,
    parse_float=_slow_fraction,
    parse_constant=_slow_constant,
)


def _refuse_the_first(tree: Any, source: str) -> None:
    for path, reason in _not_canonical(tree, ()):
        raise Unreadable(source, path, reason)


def _not_canonical(value: Any, steps: tuple[Step, ...]) -> Iterator[tuple[str, str]]:
    """Yield the place and the reason of everything that has no canonical form."""
    for kinds, reasons in _REASONS:
        if isinstance(value, kinds):
            for reason in reasons(value):
                yield path_of(steps), reason
            break
    else:
        yield path_of(steps), f"{type(value).__name__} is no JSON"
    for step, item in _inside(value):
        yield from _not_canonical(item, (*steps, step))


def _inside(value: Any) -> Iterable[tuple[Step, Any]]:
    if isinstance(value, _Pairs):
        return value.pairs
    if isinstance(value, Mapping):
        return ((str(key), item) for key, item in value.items())
    return enumerate(value) if isinstance(value, list) else ()


def _text_reasons(value: str) -> Iterable[str]:
    if not value.isascii() and any("\ud800" <= letter <= "\udfff" for letter in value):
        yield "the text holds half a surrogate pair"


def _integer_reasons(value: int) -> Iterable[str]:
    if abs(value) > LARGEST_INTEGER:
        yield "the whole number is beyond 2^53 - 1"


def _key_reasons(keys: Iterable[object]) -> Iterable[str]:
    seen = set()
    for key in keys:
        shown = str(key)[:60]
        if not isinstance(key, str) or not key.isascii():
            yield f"the key {shown!r} is not ASCII text"
        if key in seen:
            yield f"the key {shown!r} stands there twice"
        seen.add(key)


def _fraction_reasons(_value: float) -> Iterable[str]:
    yield 'a number with a fraction stands there; measured values are text, like "1.40"'


_REASONS: tuple[tuple[Any, Callable[[Any], Iterable[str]]], ...] = (
    (_Refused, lambda refused: (refused.reason,)),
    (str, _text_reasons),
    (int, _integer_reasons),
    (float, _fraction_reasons),
    (_Pairs, lambda found: _key_reasons(key for key, _ in found.pairs)),
    (dict, _key_reasons),
    (list, lambda _items: ()),
    (type(None), lambda _none: ()),
)
