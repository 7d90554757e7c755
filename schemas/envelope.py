"""What each field of an entry's envelope may hold: one reader a field.

A reader takes the JSON value and gives the Python one, or raises `ValueError` or `TypeError`
with a reason that completes "at $.field, …".
"""

import re
from collections.abc import Callable
from datetime import datetime
from typing import Any

from schemas.canonical import JsonObject, JsonValue
from schemas.logical_clock import LogicalTime

LARGEST_SCHEMA = 9999
MOST_PARENTS = 64

_KIND = re.compile(r"[a-z][a-z0-9_]{0,39}")
_UUID7 = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}")
_REVISION = re.compile(r"[0-9a-f]{64}")
_AUTHOR = re.compile(r"[A-Za-z0-9][A-Za-z0-9._:-]{0,63}")
_MADE_AT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,6})?Z")
_ZONE = re.compile(r"[A-Za-z0-9_+\-/:]{1,64}")
_FEATURE = re.compile(r"[a-z0-9][a-z0-9_.-]{0,63}")


def _matching(pattern: re.Pattern[str], what: str) -> Callable[[JsonValue], str]:
    def read(value: JsonValue) -> str:
        if not isinstance(value, str) or not pattern.fullmatch(value):
            raise ValueError(f"this is not {what}")
        return value

    return read


def _each(read: Callable[[JsonValue], str]) -> Callable[[JsonValue], tuple[str, ...]]:
    def read_all(value: JsonValue) -> tuple[str, ...]:
        if not isinstance(value, list) or len(value) > MOST_PARENTS:
            raise ValueError(f"this is not a list of at most {MOST_PARENTS}")
        found = tuple(map(read, value))
        if len(set(found)) != len(found):
            raise ValueError("one of them stands there twice")
        return found

    return read_all


def _schema(value: JsonValue) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 < value <= LARGEST_SCHEMA:
        raise ValueError(f"this is not a whole number from 1 to {LARGEST_SCHEMA}")
    return value


_made_at_text = _matching(_MADE_AT, "a time in UTC like 2026-03-01T05:31:00Z")


def _made_at(value: JsonValue) -> datetime:
    text = _made_at_text(value)
    try:
        return datetime.fromisoformat(text)
    except ValueError as error:
        raise ValueError(f"there is no such time, {error}") from error


_clock_text = _matching(re.compile(r"[0-9a-f-]{17}"), "a logical time like 0192f0c1a2b3-0007")


def _clock(value: JsonValue) -> LogicalTime:
    return LogicalTime.from_text(_clock_text(value))


def _body(value: JsonValue) -> JsonObject:
    if not isinstance(value, dict):
        raise TypeError("this is not an object")
    return value


ENVELOPE: dict[str, Callable[[JsonValue], Any]] = {
    "kind": _matching(_KIND, "the name of a kind of entry"),
    "schema": _schema,
    "must": _each(_matching(_FEATURE, "the name of a feature")),
    "id": _matching(_UUID7, "a UUID version 7 in small letters"),
    "parents": _each(_matching(_REVISION, "the SHA-256 of an entry in small letters")),
    "author": _matching(_AUTHOR, "the id of a person"),
    "made_at": _made_at,
    "zone": _matching(_ZONE, "a time zone like +05:30"),
    "clock": _clock,
    "body": _body,
}
"""The envelope's fields, each with its reader."""
