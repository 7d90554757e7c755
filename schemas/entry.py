"""Entries: what a person stated, in one line of canonical JSON that never changes.

The bytes of the line are the truth: they are kept, hashed and passed on as they were
written, with every field that this version doesn't know. `Entry` is a reading of them. The
body is raw JSON here; `schemas.bodies` says what each kind holds.
"""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from schemas.canonical import (
    JsonValue,
    Unreadable,
    canonical_bytes,
    in_normal_form,
    parse_json,
    revision_of,
)
from schemas.envelope import ENVELOPE
from schemas.features import KNOWN_MUST
from schemas.logical_clock import LogicalTime
from schemas.trouble import NotAllowed


@dataclass(eq=False)
class EntryIsNewer(NotAllowed):
    """An entry needs features that this version doesn't know, so it can only be read."""

    thing_id: str
    features: str
    happened = "{thing_id} was written by a newer version and needs {features}."
    kept = "It is kept and passed on as it is."
    do_next = "Update the program on this tablet, then correct it."


@dataclass(frozen=True)
class Stated:
    """Who states something, when and where: what every new entry says of itself."""

    author: str
    made_at: datetime
    zone: str
    clock: LogicalTime

    def __post_init__(self) -> None:
        if self.made_at.tzinfo is None:
            raise ValueError("a time without a zone")


@dataclass(frozen=True, eq=False)
class Entry:
    """One line, and what its envelope says; `unknown` holds a newer version's own fields.

    Two entries are equal when their bytes are.
    """

    kind: str
    schema: int
    must: tuple[str, ...]
    id: str
    parents: tuple[str, ...]
    author: str
    made_at: datetime
    zone: str
    clock: LogicalTime
    body: Mapping[str, JsonValue]
    unknown: Mapping[str, JsonValue]
    line: bytes
    revision: str

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Entry) and self.line == other.line

    def __hash__(self) -> int:
        return hash(self.line)

    @property
    def read_only(self) -> bool:
        """Whether a newer version asks that programs which don't know it leave this alone."""
        return not KNOWN_MUST.issuperset(self.must)


def read_entry(line: bytes, *, source: str) -> Entry:
    """Read one line, checking the envelope and keeping what is not known.

    Raises
    ------
    Unreadable
        The line is no strict JSON (`parse_json`), or a field of the envelope is missing or
        is not what it should be. Names the source, the path and the reason.
    """
    if b"\n" in line:
        raise Unreadable(source, "$", "an entry stands in one line")
    return _entry(parse_json(line, source=source), line, source)


def read_again(line: bytes, *, revision: str, source: str) -> Entry:
    """Read a line that `read_entry` took in before: quicker, and as safe.

    The hash shows that these are the bytes that were looked at strictly then.

    Raises
    ------
    Unreadable
        The bytes are not those of that revision.
    """
    if revision_of(line) != revision:
        raise Unreadable(source, "$", "its bytes do not fit its revision")
    return _entry(json.loads(line), line, source)


def new_entry(  # noqa: PLR0913 - what an envelope says
    kind: str,
    schema: int,
    thing_id: str,
    body: Mapping[str, JsonValue],
    stated: Stated,
    *,
    parents: tuple[str, ...] = (),
    must: tuple[str, ...] = (),
) -> Entry:
    """Write a new entry; texts in its body are brought to Unicode's normal form C.

    Raises
    ------
    Unreadable
        What was given makes no entry that could be read back.
    ValueError
        The body has no canonical JSON: a bug of the caller.
    """
    content = {name: in_normal_form(value) for name, value in body.items()}
    return _written(
        {
            "kind": kind,
            "schema": schema,
            "must": list(must),
            "id": thing_id,
            "parents": list(parents),
            "body": content,
        },
        stated,
    )


def corrected(
    entry: Entry,
    body_changes: Mapping[str, JsonValue],
    stated: Stated,
    *,
    settles: tuple[Entry, ...] = (),
) -> Entry:
    """Write a new revision of an entry that keeps everything it doesn't change.

    Objects inside the body are changed field by field, lists and single values as a whole;
    fields that this version doesn't know stay as they were.

    Parameters
    ----------
    entry : Entry
        The revision to start from; it becomes a parent of the new one.
    body_changes : mapping
        What is different now.
    stated : Stated
        Who says so, and when.
    settles : tuple of Entry
        Other current revisions of the same thing that a person has decided this one replaces.

    Raises
    ------
    EntryIsNewer
        One of them asks for features that this version doesn't know.
    """
    for one in (entry, *settles):
        if one.read_only:
            raise EntryIsNewer(one.id, ", ".join(sorted(set(one.must) - KNOWN_MUST)))
    return _written(
        {
            **entry.unknown,
            "kind": entry.kind,
            "schema": entry.schema,
            "must": list(entry.must),
            "id": entry.id,
            "parents": [one.revision for one in (entry, *settles)],
            "body": _changed(entry.body, body_changes),
        },
        stated,
    )


def _written(envelope: Mapping[str, JsonValue], stated: Stated) -> Entry:
    made_at = stated.made_at.astimezone(UTC).isoformat().replace("+00:00", "Z")
    line = canonical_bytes(
        {
            **envelope,
            "author": stated.author,
            "made_at": made_at,
            "zone": stated.zone,
            "clock": str(stated.clock),
        }
    )
    return read_entry(line, source="the new entry")


def _changed(
    before: Mapping[str, JsonValue], changes: Mapping[str, JsonValue]
) -> dict[str, JsonValue]:
    after = dict(before)
    for name, value in changes.items():
        old = before.get(name)
        if isinstance(value, dict) and isinstance(old, dict):
            after[name] = _changed(old, value)
        else:
            after[name] = in_normal_form(value)
    return after


def _entry(found: JsonValue, line: bytes, source: str) -> Entry:
    if not isinstance(found, dict):
        raise Unreadable(source, "$", "an entry is an object")
    known: dict[str, Any] = {}
    for name, read in ENVELOPE.items():
        if name not in found:
            raise Unreadable(source, f"$.{name}", "the field is missing")
        try:
            known[name] = read(found[name])
        except (TypeError, ValueError) as error:
            raise Unreadable(source, f"$.{name}", str(error)) from error
    unknown = {name: value for name, value in found.items() if name not in ENVELOPE}
    return Entry(**known, unknown=unknown, line=line, revision=revision_of(line))
