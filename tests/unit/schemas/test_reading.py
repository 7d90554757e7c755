"""A file that a person wrote by hand is taken, or refused with the place and the reason."""

import json
from collections.abc import Callable
from copy import deepcopy
from pathlib import Path
from typing import Any

import pytest

import assets
from schemas.canonical import NotJson, Unreadable
from schemas.reading import MOST_VALUES, Refused, read_model
from schemas.reasons import as_typed
from schemas.standard import Standard

DEMO = Path(assets.__file__).parent / "demo" / "standard.json"
LAP = "$.classes[1].limits.mesh_lap"


def refused(change: Callable[[Any], object]) -> Refused:
    document = deepcopy(json.loads(DEMO.read_bytes()))
    change(document)
    with pytest.raises(Refused) as caught:
        read_model(as_bytes(document), Standard, source="the standard")
    return caught.value


def as_bytes(document: object) -> bytes:
    return json.dumps(document, ensure_ascii=False).encode()


def in_lap(**fields: object) -> Callable[[Any], object]:
    return lambda standard: standard["classes"][1]["limits"]["mesh_lap"].update(fields)


def at_top(**fields: object) -> Callable[[Any], object]:
    return lambda standard: standard.update(fields)


def test_the_demo_standard_is_read() -> None:
    assert read_model(DEMO.read_bytes(), Standard, source="it").name == "S-2 revision 5"


STANDS = "stands there, and"
NUMBER = 'a measured value is a plain decimal in quotes, such as "1.25"'
TIME = "stands there, and a time with its zone is needed, like 2025-02-01T06:00:00Z"
WHOLE = "stands there, and a whole number without quotes is needed"
BREACHES = "one of these is needed: fix this shift, rework, no entry"


@pytest.mark.parametrize(
    ("field", "value", "reason"),
    [
        ("at_least_mm", "30 cm", f'"30 cm" {STANDS} {NUMBER}'),
        ("at_least_mm", 300, f"300 {STANDS} {NUMBER}"),
        ("at_least_mm", "", f"it is empty, and {NUMBER}"),
        ("at_least_mm", "99999", '"99999" stands there, and it can\'t be more than 20000'),
        ("because", "", "it is empty"),
        ("because", None, "it is empty, and text in quotes is needed"),
        ("at_least_openings", None, "it is empty, and a whole number without quotes is needed"),
        ("breach", "stop", f'"stop" {STANDS} {BREACHES}'),
        ("breach", "", f"it is empty, and {BREACHES}"),
        (
            "at_least_openings",
            "3",
            '"3" stands there, and a whole number without quotes is needed',
        ),
        ("at_least_openings", 0, "0 stands there, and it can't be less than 1"),
    ],
)
def test_a_refusal_names_the_place_and_the_reason(field: str, value: object, reason: str) -> None:
    refusal = refused(in_lap(**{field: value}))

    assert (refusal.path, refusal.reason, refusal.others) == (f"{LAP}.{field}", reason, 0)
    assert "quotes" not in as_typed(refusal.reason), "nobody quotes what is typed"


@pytest.mark.parametrize(
    ("field", "value", "reason"),
    [
        ("effective_from", "2025-02-01", f'"2025-02-01" {TIME}'),
        ("effective_from", "2025-02-01T06:00:00", f'"2025-02-01T06:00:00" {TIME}'),
        ("effective_from", 1738368000, f"1738368000 {TIME}"),
        ("demo", "yes", '"yes" stands there, and true or false without quotes is needed'),
        ("classes", [], "the list is empty"),
        ("classes", {}, "a list in [ ] is needed"),
        ("walk", [], "an object in { } is needed"),
        ("code", "S" * 21, f'"{"S" * 21}" stands there, and the text has more than 20 letters'),
        ("code", "", "it is empty"),
    ],
)
def test_a_refusal_at_the_top_says_what_is_needed(field: str, value: object, reason: str) -> None:
    refusal = refused(at_top(**{field: value}))

    assert (refusal.path, refusal.reason, refusal.others) == (f"$.{field}", reason, 0)


def test_a_long_text_is_not_repeated_to_the_reader() -> None:
    assert len(refused(at_top(mine="x" * 3000)).reason) < 120


def test_a_missing_field_is_named() -> None:
    refusal = refused(lambda standard: standard["classes"][0]["limits"].pop("largest_gap"))

    assert refusal.path == "$.classes[0].limits.largest_gap"
    assert refusal.reason == "nothing is written, and something must be"


def test_a_choice_between_lists_of_words_is_one_list() -> None:
    def change(standard: Any) -> None:
        ground = standard["classes"][0]["limits"]["ground_condition"]
        ground["triggers"][2]["after_the_call"] = "perhaps"

    refusal = refused(change)

    assert refusal.path == "$.classes[0].limits.ground_condition.triggers[2].after_the_call"
    assert refusal.reason == f'"perhaps" {STANDS} {BREACHES}, accept'
    assert refusal.others == 0


def test_a_wrong_item_does_not_also_make_its_list_too_short() -> None:
    refusal = refused(lambda standard: standard["classes"][0]["bolts"][0].update(zones=["roof"]))

    assert refusal.path == "$.classes[0].bolts[0].zones[0]"
    assert refusal.others == 0


def test_the_first_place_is_named_and_the_others_are_counted() -> None:
    refusal = refused(in_lap(because="", breach="stop", at_least_mm="wide"))

    assert refusal.path == f"{LAP}.because"
    assert refusal.others == 2
    assert "(2 more places are refused)" in str(refusal)


def test_a_code_used_twice_is_refused() -> None:
    refusal = refused(lambda standard: standard["classes"].append(standard["classes"][0]))

    assert refusal.reason == "two support classes share one code"


@pytest.mark.parametrize("raw", [b"[]", b"3", b"null", b'"S-2"'])
def test_what_is_no_object_is_refused_at_the_root(raw: bytes) -> None:
    with pytest.raises(Refused) as caught:
        read_model(raw, Standard, source="it")

    assert caught.value.path == "$"


def test_what_is_no_json_is_told_as_such() -> None:
    with pytest.raises(NotJson):
        read_model(b'{"code": ', Standard, source="it")


def test_a_number_with_a_fraction_is_told_as_such() -> None:
    with pytest.raises(Unreadable, match="bare number"):
        read_model(b'{"code": 1.5}', Standard, source="it")


def test_more_values_than_any_standard_has_are_refused_before_they_are_looked_at() -> None:
    refusal = refused(at_top(severities=[1] * MOST_VALUES))

    assert (refusal.path, refusal.reason) == ("$", "it holds more than 200,000 values")


def test_no_sentence_lets_the_checking_library_speak() -> None:
    refusal = refused(lambda standard: standard.update(classes=[7], measuring=[], revision=True))

    assert not any(word in str(refusal).lower() for word in ("pydantic", "http", "input", "model"))
