"""The quick reading of plain JSON gives what the careful one gives, or leaves it to that."""

import json
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from schemas.canonical import DEEPEST, JsonValue, Unreadable, _read_carefully
from schemas.plain_json import NotPlain, read_plain
from tests.property.json_values import json_values

SAMPLES = sorted((Path(__file__).parents[2] / "reference/entries").glob("*.json"))

pieces = st.sampled_from(
    [*'{}[]",: 019.-eE\\', '"a":', '"a" :', '"a":1', "null", "true", "NaN", "é", "\t", "\n", '\\"']
)
gaps = st.sampled_from([(",", ":"), (", ", ": "), (",", " :"), (" ,", ":")])


def plainly(text: str) -> object:
    try:
        return read_plain(text, DEEPEST)
    except NotPlain:
        return NotPlain


def agrees(text: str) -> None:
    quick = plainly(text)
    if quick is not NotPlain:
        assert _read_carefully(text, "a text") == quick
        assert type(_read_carefully(text, "a text")) is type(quick)


@given(st.lists(pieces, max_size=30).map("".join))
@example('{"a":1,"a":2}')
@example('{"a" :1,"a":2}')
@example('{"a":1,"b":"\\":","a":2}')
@example('{"é":1}')
@example("[" * 33 + "]" * 33)
@example("[" * 100_000 + "]" * 100_000)
@example("9007199254740993")
@example("1.0")
@example('"\\ud800"')
def test_whatever_comes_is_read_alike_or_left_to_the_careful_reading(text: str) -> None:
    quick = plainly(text)
    if quick is NotPlain:
        return
    try:
        careful = _read_carefully(text, "a text")
    except Unreadable as refused:
        raise AssertionError(f"{text!r} was let through: {refused.reason}") from refused
    assert careful == quick


@given(json_values(), gaps)
def test_json_is_read_alike_with_any_gaps(value: JsonValue, between: tuple[str, str]) -> None:
    agrees(json.dumps(value, separators=between))
    agrees(json.dumps(value, separators=between, ensure_ascii=False))


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_the_entries_of_every_day_are_plain(sample: Path) -> None:
    text = sample.read_text(encoding="utf-8").strip()

    assert plainly(text) == json.loads(text)


@given(st.integers(1, 60))
def test_how_deep_a_plain_text_may_be_is_told_exactly(deep: int) -> None:
    text = "[" * deep + "]" * deep

    assert (plainly(text) is NotPlain) == (deep > DEEPEST)
