"""What was ever written down still opens, and what is published is current."""

import json
from pathlib import Path

import pytest

from schemas.bodies import BODIES
from schemas.canonical import canonical_bytes, parse_json
from schemas.entry import read_entry
from tests.house.tree import ROOT, name_of

SAMPLES = ROOT / "tests/reference/entries"
PUBLISHED = ROOT / "schemas/published"
SAMPLE_FILES = sorted(SAMPLES.glob("*.json"))

samples = pytest.mark.parametrize("sample", SAMPLE_FILES, ids=lambda path: path.stem)


@pytest.mark.parametrize("kind", BODIES)
def test_every_kind_of_entry_has_a_sample(kind: str) -> None:
    kinds = {json.loads(path.read_bytes())["kind"] for path in SAMPLE_FILES}

    assert kind in kinds, f"write one line to {name_of(SAMPLES)}/{kind}-<schema>.json; keep it"


@samples
def test_a_sample_is_named_for_its_kind_and_version(sample: Path) -> None:
    entry = json.loads(sample.read_bytes())

    assert sample.stem.split("-")[:2] == [entry["kind"], str(entry["schema"])], (
        "name it <kind>-<schema>.json, so that each version that was ever released is kept"
    )


@samples
def test_a_sample_still_opens(sample: Path) -> None:
    line = sample.read_bytes().rstrip(b"\n")
    entry = read_entry(line, source=sample.name)

    BODIES[entry.kind].model_validate(entry.body)


@samples
def test_a_sample_s_bytes_are_canonical(sample: Path) -> None:
    line = sample.read_bytes().rstrip(b"\n")

    assert canonical_bytes(parse_json(line, source=sample.name)) == line, (
        "samples are never mended: if the form changed, it needs a new version"
    )


def test_the_published_schemas_are_current(tmp_path: Path) -> None:
    from fieldapp.cli import main

    assert main(["schema", "--out", str(tmp_path)]) == 0
    written = {path.name: path.read_bytes() for path in tmp_path.glob("*.json")}
    kept = {path.name: path.read_bytes() for path in PUBLISHED.glob("*.json")}
    stale = sorted(name for name in written if kept.get(name) != written[name])

    assert written, "lastrow schema wrote nothing"
    assert not stale, f"run: lastrow schema --out {name_of(PUBLISHED)}"
    assert not set(kept) - set(written), "these are no longer written: were they released?"


def test_every_kind_of_entry_has_a_published_schema() -> None:
    names = " ".join(path.name for path in PUBLISHED.glob("*.json"))
    missing = [kind for kind in BODIES if kind not in names]

    assert not missing, f"run: lastrow schema --out {name_of(PUBLISHED)}"


@pytest.mark.parametrize("published", sorted(PUBLISHED.glob("*.json")), ids=lambda p: p.stem)
def test_a_published_schema_is_of_the_draft_it_says(published: Path) -> None:
    from jsonschema import Draft202012Validator

    schema = json.loads(published.read_bytes())

    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    Draft202012Validator.check_schema(schema)
