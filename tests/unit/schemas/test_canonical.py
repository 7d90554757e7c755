import pytest

from schemas.canonical import (
    JsonValue,
    NotJson,
    Unreadable,
    canonical_bytes,
    in_normal_form,
    parse_json,
    revision_of,
)


@pytest.mark.parametrize(
    ("value", "written"),
    [
        ({"b": 1, "a": [True, None]}, b'{"a":[true,null],"b":1}'),
        (
            {"lap_mm": "300", "note": 'wet "here"\n'},
            b'{"lap_mm":"300","note":"wet \\"here\\"\\n"}',
        ),
        (2**53 - 1, b"9007199254740991"),
        ("é", "\u00e9".encode().join((b'"', b'"'))),
        ({}, b"{}"),
    ],
)
def test_a_value_is_written_in_one_way_only(value: JsonValue, written: bytes) -> None:
    assert canonical_bytes(value) == written


@pytest.mark.parametrize(
    ("value", "path"),
    [
        ({"rows": [{"chainage_m": 1.5}]}, "$.rows[0].chainage_m"),
        ([0, 2**53], "$[1]"),
        ({"note": "\ud800"}, "$.note"),
        ({"é": 1}, "$"),
        ({1: 1}, "$"),
        ({"laps": (1, 2)}, "$.laps"),
        ({"made": b""}, "$.made"),
    ],
)
def test_what_programs_might_write_apart_is_a_bug(value: JsonValue, path: str) -> None:
    with pytest.raises(ValueError, match="no canonical JSON") as caught:
        canonical_bytes(value)

    assert f"at {path}, " in str(caught.value)


def test_alike_texts_become_equal_before_they_are_written_never_while() -> None:
    decomposed = "e\u0301"

    assert in_normal_form([{"note": decomposed}]) == [{"note": "\u00e9"}]
    assert canonical_bytes(decomposed) != canonical_bytes("\u00e9")


def test_a_revision_is_the_sha_256_of_the_line() -> None:
    # SHA-256 of "abc". Published: FIPS 180-2, appendix B.1.
    assert revision_of(b"abc") == (
        "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    )


@pytest.mark.parametrize(
    ("raw", "path", "reason"),
    [
        (b'{"a":1,"a":1}', "$", "twice"),
        (b'{"rows":[{},{"x":{"b":1,"b":2}}]}', "$.rows[1].x", "twice"),
        (b'{"rows":[{"chainage_m":1386.40}]}', "$.rows[0].chainage_m", "1386.40"),
        (b"[1e400]", "$[0]", "1e400"),
        (b'{"lap_mm":NaN}', "$.lap_mm", "NaN"),
        (b"[0,-Infinity]", "$[1]", "-Infinity"),
        (b"[9007199254740992]", "$[0]", "2^53"),
        (b"9" * 5000, "$", "2^53"),
        (b'{"note":"\\ud800"}', "$.note", "surrogate"),
        ('{"é":1}'.encode(), "$", "ASCII"),
        (b'{"an odd key":{"b":0.5}}', '$["an odd key"].b', "0.5"),
        (b'{"a":' + b"[" * 33 + b"]" * 33 + b"}", "$.a" + "[0]" * 31, "deeper"),
        (b"[" * 1_000_000, "$" + "[0]" * 32, "deeper"),
        (b'["\xff"]', "$", "UTF-8"),
        (b"\xef\xbb\xbf{}", "$", "byte order mark"),
        (b" " * (4 * 1024 * 1024 + 1), "$", "4 MB"),
    ],
    ids=lambda value: repr(value[:20]),
)
def test_what_is_refused_is_named_with_its_place_and_reason(
    raw: bytes, path: str, reason: str
) -> None:
    with pytest.raises(Unreadable) as caught:
        parse_json(raw, source="round-12.json")

    assert caught.value.source == "round-12.json"
    assert caught.value.path == path
    assert reason in caught.value.reason


@pytest.mark.parametrize(
    ("raw", "line"),
    [
        (b"", 1),
        (b'{"a":1}\n\nx', 3),
        (b'{"a":1,\n"b" 2}', 2),
        (b'{"a":"b\n"}', 1),
        (b'["' + b'\\"' * 1_000_000, 1),
        (b"]" * 100, 1),
        (b'"\\', 1),
    ],
    ids=lambda value: repr(value)[:20],
)
def test_what_is_no_json_is_named_by_its_line(raw: bytes, line: int) -> None:
    with pytest.raises(NotJson) as caught:
        parse_json(raw, source="round-12.json")

    assert caught.value.line == line


@pytest.mark.parametrize(
    ("raw", "value"),
    [
        (b"9007199254740991", 2**53 - 1),
        (b"-9007199254740991", -(2**53 - 1)),
        (b'"\\ud83d\\ude00"', "\U0001f600"),
        (b'["[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[["]', ["[" * 36]),
        (b"[" * 32 + b"]" * 32, None),
        (b' {"a" : [ ] } \n', {"a": []}),
    ],
)
def test_what_is_just_allowed_is_read(raw: bytes, value: JsonValue) -> None:
    read = parse_json(raw, source="here")

    assert value is None or read == value


@pytest.mark.parametrize(
    "odd", [b"1.5", b"1e3", b"NaN", b"12345678901234567890", b'{"k":1,"k":2}']
)
def test_what_is_odd_first_and_no_json_after_that_is_no_json(odd: bytes) -> None:
    """As a flipped bit left a file once: a comma was gone, after a number with an exponent."""
    with pytest.raises(NotJson):
        parse_json(b'{"a":' + odd + b' "b":2}', source="a file")


def test_a_long_key_does_not_flood_the_message() -> None:
    raw = b'{"' + b"k" * 100_000 + b'":0.5}'

    with pytest.raises(Unreadable) as caught:
        parse_json(raw, source="here")

    assert len(str(caught.value)) < 1000
