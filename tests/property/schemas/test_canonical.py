import contextlib
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from schemas.canonical import JsonValue, Unreadable, canonical_bytes, parse_json
from tests.property.json_values import json_values


@given(json_values())
def test_what_is_written_reads_back_as_it_was(value: JsonValue) -> None:
    assert parse_json(canonical_bytes(value), source="here") == value


@given(json_values())
def test_what_is_read_and_written_again_is_the_same_bytes(value: JsonValue) -> None:
    written = canonical_bytes(value)

    assert canonical_bytes(parse_json(written, source="here")) == written


@given(json_values())
def test_the_order_of_names_makes_no_difference(value: JsonValue) -> None:
    shuffled = json.loads(json.dumps(value), object_pairs_hook=lambda pairs: dict(pairs[::-1]))

    assert canonical_bytes(shuffled) == canonical_bytes(value)


@given(json_values(), st.booleans())
def test_a_plain_reader_reads_the_same(value: JsonValue, indented: bool) -> None:  # noqa: FBT001
    text = json.dumps(value, indent=2 if indented else None)

    assert parse_json(text.encode(), source="here") == json.loads(text)


@given(st.binary(max_size=200) | st.text('[]{}",:\\ 01.eEnNaulTrf', max_size=60).map(str.encode))
def test_whatever_comes_is_read_or_refused(raw: bytes) -> None:
    with contextlib.suppress(Unreadable):
        value = parse_json(raw, source="here")
        assert parse_json(canonical_bytes(value), source="here") == value


@given(json_values(), st.integers(0, 31))
def test_one_odd_number_is_found_wherever_it_stands(value: JsonValue, place: int) -> None:
    items: list[JsonValue] = [value] * 32
    text = json.dumps(items[:place]).removesuffix("]") + ("," if place else "") + '{"gap_m":1.5}]'

    with pytest.raises(Unreadable) as caught:
        parse_json(text.encode(), source="here")

    assert caught.value.path == f"$[{place}].gap_m"
