import json

from hypothesis import given
from hypothesis import strategies as st

from schemas.canonical import JsonObject, JsonValue, canonical_bytes, revision_of
from schemas.entry import corrected, read_entry
from schemas.envelope import ENVELOPE
from tests.made import entry, stated
from tests.property.json_values import json_objects, normal_texts


def says(body: object, changes: JsonValue) -> bool:
    """Tell whether a body says what was changed: objects field by field, the rest as a whole."""
    if isinstance(changes, dict) and isinstance(body, dict):
        return all(name in body and says(body[name], changes[name]) for name in changes)
    return body == changes


unknown_fields = json_objects().map(
    lambda fields: {name: value for name, value in fields.items() if name not in ENVELOPE}
)


@given(unknown_fields, json_objects())
def test_what_this_version_does_not_know_survives_with_its_hash(
    unknown: JsonObject, body: JsonObject
) -> None:
    line = canonical_bytes({**json.loads(entry().line), **unknown, "body": body})

    read = read_entry(line, source="here")

    assert read.line == line
    assert read.revision == revision_of(line)
    assert (read.unknown, read.body) == (unknown, body)


@given(unknown_fields, json_objects(), json_objects(normal_texts))
def test_a_correction_keeps_every_field_that_it_does_not_name(
    unknown: JsonObject, body: JsonObject, changes: JsonObject
) -> None:
    line = canonical_bytes({**json.loads(entry().line), **unknown, "body": body})

    second = corrected(read_entry(line, source="here"), changes, stated(1))

    assert second.unknown == unknown
    assert {name: second.body[name] for name in body if name not in changes} == {
        name: value for name, value in body.items() if name not in changes
    }


@given(json_objects(normal_texts), json_objects(normal_texts))
def test_a_correction_says_what_it_was_asked_to_say(body: JsonObject, changes: JsonObject) -> None:
    second = corrected(entry(0, body), changes, stated(1))

    assert says(second.body, changes)


@given(json_objects(), st.integers(0, 10_000))
def test_a_new_entry_reads_back_as_it_was_written(body: JsonObject, number: int) -> None:
    written = entry(number, body)

    read = read_entry(written.line, source="here")

    assert read == written
    assert vars(read) == vars(written)
