"""What is published of the forms says what the models refuse."""

import json
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from referencing import Registry

from schemas.bodies import BODIES
from schemas.json_schema import published, urn
from tests.made import entry
from tests.standards import DEMO

PUBLISHED = {name: json.loads(raw) for name, raw in published().items()}

REGISTRY: Registry[Any] = Registry().with_contents(
    [(schema["$id"], schema) for schema in PUBLISHED.values()]
)


def refused(name: str, document: Any) -> list[str]:
    validator = Draft202012Validator(PUBLISHED[name], registry=REGISTRY)
    return [error.json_path for error in validator.iter_errors(document)]


def standard_with(path: str, value: object) -> Any:
    document = json.loads(DEMO)
    *steps, last = path.split(".")
    place = document
    for step in steps:
        place = place[int(step) if step.isdigit() else step]
    place[last] = value
    return document


def test_published_twice_it_is_the_same_bytes() -> None:
    assert published() == published()


@pytest.mark.parametrize("kind", BODIES)
def test_every_kind_is_known_by_its_own_name(kind: str) -> None:
    assert PUBLISHED[f"{kind}.json"]["$id"] == urn(kind)


def test_the_demo_standard_is_of_the_published_form() -> None:
    assert refused("standard.json", json.loads(DEMO)) == []


@pytest.mark.parametrize(
    ("path", "value"),
    [
        ("measuring.tape_m", 0.01),
        ("measuring.tape_m", "-0.01"),
        ("measuring.tape_m", "NaN"),
        ("measuring.tape_m", "1e400"),
        ("effective_from", 5),
        ("revision", 0),
        ("classes.0.limits.largest_gap.breach", "shrug"),
        ("classes.0.pattern.bolts_per_row", "9"),
    ],
)
def test_the_published_form_refuses_what_the_model_refuses(path: str, value: object) -> None:
    assert refused("standard.json", standard_with(path, value))


def test_an_offset_may_be_left_of_the_crown() -> None:
    offset = PUBLISHED["assessment.json"]["$defs"]["Place"]["properties"]["s_m"]

    assert Draft202012Validator(offset).is_valid("-2.800")


def test_a_field_is_described_by_the_sentence_under_it() -> None:
    face = PUBLISHED["heading.json"]["properties"]["face_m"]

    assert face["description"] == "Chainage of the face when the heading was entered."


def test_an_envelope_is_of_the_published_form() -> None:
    line = json.loads(entry(kind="something_newer").line)

    assert refused("entry.json", line) == []


@pytest.mark.parametrize(
    ("field", "value"),
    [("id", "7"), ("made_at", "yesterday"), ("parents", ["7"]), ("schema", 0), ("body", [])],
)
def test_the_published_envelope_refuses_what_the_reader_refuses(field: str, value: object) -> None:
    line = json.loads(entry(kind="something_newer").line) | {field: value}

    assert refused("entry.json", line) == [f"$.{field}"] or refused("entry.json", line) == [
        f"$.{field}[0]"
    ]


def test_a_body_is_held_to_the_form_of_its_kind() -> None:
    line = json.loads(entry(kind="round", body={"number": 0}).line)

    assert "$.body.number" in refused("entry.json", line)


def test_every_field_of_the_envelope_is_needed() -> None:
    line = json.loads(entry(kind="something_newer").line)

    for field in line:
        assert refused("entry.json", {k: v for k, v in line.items() if k != field})
