import json
from datetime import UTC, datetime, timedelta, timezone

import pytest

from schemas.canonical import JsonValue, Unreadable, canonical_bytes, revision_of
from schemas.entry import EntryIsNewer, Stated, corrected, new_entry, read_again, read_entry
from schemas.logical_clock import LogicalTime
from tests.made import entry, stated, thing_id


def altered(**fields: JsonValue) -> bytes:
    return canonical_bytes({**json.loads(entry().line), **fields})


def test_a_new_entry_reads_back_as_it_was_written() -> None:
    written = entry(3, {"lap_mm": "300"})

    read = read_entry(written.line, source="here")

    assert read == written
    assert (read.kind, read.id, read.body) == ("round", thing_id(3), {"lap_mm": "300"})
    assert (read.author, read.zone, read.clock) == ("p-rowan", "+05:30", stated(3).clock)
    assert read.made_at == stated(3).made_at
    assert read.revision == revision_of(written.line)


def test_a_time_of_another_zone_is_written_in_utc() -> None:
    at_noon = datetime(2026, 3, 1, 12, tzinfo=timezone(timedelta(hours=5, minutes=30)))

    written = new_entry(
        "round", 1, thing_id(1), {}, Stated("p", at_noon, "+05:30", LogicalTime(1))
    )

    assert b'"made_at":"2026-03-01T06:30:00Z"' in written.line
    assert written.made_at == at_noon
    assert written.made_at.tzinfo is UTC


def test_a_time_without_a_zone_is_a_bug() -> None:
    with pytest.raises(ValueError, match="zone"):
        Stated("p", datetime(2026, 3, 1, 12), "Z", LogicalTime(1))  # noqa: DTZ001


def test_words_are_brought_to_one_form_when_an_entry_is_made() -> None:
    assert entry(1, {"note": "e\u0301"}).body == {"note": "\u00e9"}


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("kind", "Round"),
        ("schema", 0),
        ("schema", True),
        ("schema", "1"),
        ("must", "feature"),
        ("must", ["feature", "feature"]),
        ("id", "0192f0c1-a2b3-4000-8000-000000000000"),  # version 4
        ("id", thing_id(1).upper()),
        ("parents", ["abc"]),
        ("parents", ["0" * 64, "0" * 64]),
        ("parents", [f"{number:064x}" for number in range(65)]),
        ("author", ""),
        ("author", "../../etc"),
        ("made_at", "2026-03-01T05:31:00+00:00"),
        ("made_at", "2026-02-30T05:31:00Z"),
        ("made_at", 1772343060),
        ("zone", "a b"),
        ("clock", "0192f0c1a2b3_0007"),
        ("clock", "0192F0C1A2B3-0007"),
        ("body", []),
    ],
)
def test_a_field_of_the_envelope_that_is_wrong_is_named(field: str, value: JsonValue) -> None:
    with pytest.raises(Unreadable) as caught:
        read_entry(altered(**{field: value}), source="line 7")

    assert (caught.value.source, caught.value.path) == ("line 7", f"$.{field}")


@pytest.mark.parametrize("field", json.loads(entry().line))
def test_a_field_of_the_envelope_that_is_missing_is_named(field: str) -> None:
    fields = json.loads(entry().line)
    del fields[field]

    with pytest.raises(Unreadable) as caught:
        read_entry(canonical_bytes(fields), source="line 7")

    assert (caught.value.path, caught.value.reason) == (f"$.{field}", "the field is missing")


@pytest.mark.parametrize("line", [b"[]", b"null", entry().line.replace(b",", b",\n", 1)])
def test_an_entry_is_one_object_in_one_line(line: bytes) -> None:
    with pytest.raises(Unreadable):
        read_entry(line, source="line 7")


def test_what_a_newer_version_wrote_is_kept_as_bytes() -> None:
    line = altered(seen_by=["p-1"], body={"chainage_m": "1.0", "tilt_deg": "4"})

    read = read_entry(line, source="here")

    assert read.line == line
    assert read.unknown == {"seen_by": ["p-1"]}
    assert read.body["tilt_deg"] == "4"


def test_a_line_that_was_not_written_canonically_keeps_its_bytes_and_hash() -> None:
    line = json.dumps(json.loads(entry().line)).encode()

    read = read_entry(line, source="here")

    assert read.line == line
    assert read.revision == revision_of(line)


def test_a_correction_keeps_what_it_does_not_change() -> None:
    first = read_entry(
        altered(seen_by=["p-1"], body={"face": {"left_m": "1.0", "glare": 3}, "tilt_deg": "4"}),
        source="here",
    )

    second = corrected(first, {"face": {"left_m": "1.1"}, "note": "taped"}, stated(9))

    assert second.parents == (first.revision,)
    assert second.body == {
        "face": {"left_m": "1.1", "glare": 3},
        "tilt_deg": "4",
        "note": "taped",
    }
    assert second.unknown == {"seen_by": ["p-1"]}
    assert (second.id, second.kind, second.clock) == (first.id, first.kind, stated(9).clock)


def test_a_correction_leaves_the_first_entry_alone() -> None:
    first = entry(1, {"face": {"left_m": "1.0"}})

    corrected(first, {"face": {"left_m": "1.1"}}, stated(2))

    assert first.body == {"face": {"left_m": "1.0"}}


def test_a_settled_conflict_names_all_that_it_settles() -> None:
    first, other = entry(1), entry(2, thing=1)

    settled = corrected(first, {}, stated(3), settles=(other,))

    assert settled.parents == (first.revision, other.revision)


def test_what_needs_a_newer_program_can_be_read_and_not_corrected() -> None:
    newer = read_entry(altered(must=["burst-classes"]), source="here")

    with pytest.raises(EntryIsNewer) as caught:
        corrected(newer, {}, stated(1))

    assert newer.read_only
    assert caught.value.features == "burst-classes"


def test_an_entry_read_again_is_the_same() -> None:
    first = entry(1)

    assert read_again(first.line, revision=first.revision, source="here") == first


def test_an_entry_whose_bytes_have_changed_is_not_read_again() -> None:
    first = entry(1)

    with pytest.raises(Unreadable):
        read_again(first.line.replace(b"1381", b"1382"), revision=first.revision, source="here")
