"""Whatever stands in a file, reading it gives a model or a refusal, never a crash."""

import json
from functools import reduce
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

import assets
from schemas.bodies.round import Round
from schemas.canonical import Unreadable
from schemas.part import Part
from schemas.reading import Refused, read_model
from schemas.standard import Standard

DEMO = json.loads((Path(assets.__file__).parent / "demo" / "standard.json").read_bytes())

MODELS = [Standard, Round]
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: (
        st.lists(inner, max_size=5) | st.dictionaries(st.text(max_size=12), inner, max_size=5)
    ),
    max_leaves=30,
)


Place = tuple[Any, ...]


def places(value: Any, path: Place = ()) -> list[Place]:
    steps: list[tuple[Any, Any]] = []
    if isinstance(value, dict):
        steps = list(value.items())
    elif isinstance(value, list):
        steps = list(enumerate(value))
    return [path, *(deep for step, item in steps for deep in places(item, (*path, step)))]


PLACES = places(DEMO)[1:]


def taken_or_refused(raw: bytes, model: type[Part]) -> Part | None:
    try:
        return read_model(raw, model, source="the file")
    except Unreadable as refusal:
        refused = refusal
    assert refused.path.startswith("$")
    assert refused.reason
    told = str(refused).lower()
    assert not any(word in told for word in ("pydantic", "http", "input should"))
    return None


@given(st.binary(max_size=200), st.sampled_from(MODELS))
def test_any_bytes_are_taken_or_refused(raw: bytes, model: type[Part]) -> None:
    taken_or_refused(raw, model)


@given(JSON, st.sampled_from(MODELS))
@example(value={"classes": [{}]}, model=Standard)
def test_any_json_is_taken_or_refused(value: Any, model: type[Part]) -> None:
    taken_or_refused(json.dumps(value).encode(), model)


@given(st.sampled_from(PLACES), JSON)
def test_anything_in_any_place_of_a_standard_is_taken_or_refused(place: Place, value: Any) -> None:
    standard = json.loads(json.dumps(DEMO))
    reduce(lambda at, step: at[step], place[:-1], standard)[place[-1]] = value

    taken = taken_or_refused(json.dumps(standard).encode(), Standard)

    assert taken is None or taken.model_dump_json()


@pytest.mark.parametrize("model", MODELS)
@pytest.mark.parametrize(
    "raw",
    [
        b"[" * 1_000_000,
        b'{"a":' * 100_000 + b"1" + b"}" * 100_000,
        b'{"rows": [' + b",".join([b'{"number": 1}'] * 250_000) + b"]}",
        b'{"classes": [' + b"1," * 1_000_000 + b"1]}",
        b'{"code": "' + b"S" * 3_000_000 + b'"}',
        b'{"revision": ' + b"9" * 1_000_000 + b"}",
    ],
    ids=["brackets", "nested", "rows", "values", "text", "digits"],
)
def test_a_hostile_file_is_refused(raw: bytes, model: type[Part]) -> None:
    with pytest.raises(Unreadable):
        read_model(raw, model, source="the file")


def test_more_bolts_than_a_row_can_hold_are_refused() -> None:
    bolts = b",".join([b'{"state":"present"}'] * 190_000)
    with pytest.raises(Refused):
        read_model(b'{"rows":[{"number":1,"bolts":[' + bolts + b"]}]}", Round, source="the file")
