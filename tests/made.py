"""Entries and keys for tests: invented, and the same ones each time."""

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta

from schemas.canonical import JsonValue, canonical_bytes, parse_json
from schemas.entry import Entry, Stated, new_entry, read_entry
from schemas.logical_clock import LogicalTime
from schemas.signatures import SigningKey
from schemas.uuid7 import uuid7

STARTED_AT = datetime(2026, 3, 1, 5, 31, tzinfo=UTC)
TABLET_KEY = SigningKey(bytes(range(32)))
PERSON_KEY = SigningKey(bytes(range(32, 64)))


def thing_id(number: int) -> str:
    """Give the id of the invented thing of a number."""
    return str(uuid7(1_772_343_060_000 + number, number.to_bytes(10, "big")))


def stated(number: int = 0, *, author: str = "p-rowan") -> Stated:
    """Give who, when and where of the statement of a number."""
    made_at = STARTED_AT + timedelta(seconds=number)
    clock = LogicalTime(int(made_at.timestamp() * 1000), number % 7)
    return Stated(author=author, made_at=made_at, zone="+05:30", clock=clock)


def entry(
    number: int = 0,
    body: Mapping[str, JsonValue] | None = None,
    *,
    kind: str = "round",
    thing: int | None = None,
    parents: tuple[str, ...] = (),
) -> Entry:
    """Give the invented entry of a number."""
    return new_entry(
        kind,
        1,
        thing_id(number if thing is None else thing),
        {"chainage_m": f"{1380 + number}.40"} if body is None else body,
        stated(number),
        parents=parents,
    )


def of_a_newer_version(made: Entry, fields: Mapping[str, JsonValue]) -> Entry:
    """Give an entry with fields in its envelope that only a newer version knows."""
    envelope = parse_json(made.line, source="an older version")
    assert isinstance(envelope, dict)
    return read_entry(canonical_bytes({**envelope, **fields}), source="a newer version")
