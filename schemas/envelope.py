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

PATTERNS = {
    "kind": r"[a-z][a-z0-9_]{0,39}",
    "id": r"[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}",
    "revision": r"[0-9a-f]{64}",
    "author": r"[A-Za-z0-9][A-Za-z0-9._:-]{0,63}",
    "made_at": r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}(\.[0-9]{1,6})?Z",
    "zone": r"[A-Za-z0-9_+\-/:]{1,64}",
    "feature": r"[a-z0-9][a-z0-9_.-]{0,63}",
    "clock": r"[0-9a-f-]{17}",
}
"""The form of each text, also published as a schema; the whole text has to fit."""


def _matching(form: str, what: str) -> Callable[[JsonValue], str]:
    pattern = re.compile(PATTERNS[form])

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


_made_at_text = _matching("made_at", "a time in UTC like 2026-03-01T05:31:00Z")


def _made_at(value: JsonValue) -> datetime:
    text = _made_at_text(value)
    try:
        return datetime.fromisoformat(text)
    except ValueError as error:
        raise ValueError(f"there is no such time, {error}") from error


_clock_text = _matching("clock", "a logical time like 0192f0c1a2b3-0007")


def _clock(value: JsonValue) -> LogicalTime:
    return LogicalTime.from_text(_clock_text(value))


def _body(value: JsonValue) -> JsonObject:
    if not isinstance(value, dict):
        raise TypeError("this is not an object")
    return value


ENVELOPE: dict[str, Callable[[JsonValue], Any]] = {
    "kind": _matching("kind", "the name of a kind of entry"),
    "schema": _schema,
    "must": _each(_matching("feature", "the name of a feature")),
    "id": _matching("id", "a UUID version 7 in small letters"),
    "parents": _each(_matching("revision", "the SHA-256 of an entry in small letters")),
    "author": _matching("author", "the id of a person"),
    "made_at": _made_at,
    "zone": _matching("zone", "a time zone like +05:30"),
    "clock": _clock,
    "body": _body,
}
"""The envelope's fields, each with its reader."""
