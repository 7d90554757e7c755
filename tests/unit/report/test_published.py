"""A report as JSON is of the form that is published, and says nothing beside it."""

import json
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from fieldapp.report.published import published_reports
from fieldapp.work.reporting.facts import Facts, facts_bytes
from tests.unit.report.told import bolt, damage_told, heading_facts, month_facts, round_told

PUBLISHED: dict[str, Any] = {
    name: json.loads(content) for name, content in published_reports().items()
}
HEADING = heading_facts(round_told(bolt("151.2", "0")), damages=(damage_told(),))


def refused(name: str, told: Any) -> list[str]:
    validator = Draft202012Validator(PUBLISHED[name])
    return [error.json_path for error in validator.iter_errors(told)]


@pytest.mark.parametrize(
    ("name", "facts"),
    [("report_heading.json", HEADING), ("report_month.json", month_facts(damage_told()))],
)
def test_a_report_is_of_its_published_form(name: str, facts: Facts) -> None:
    assert refused(name, json.loads(facts_bytes(facts))) == []


def test_a_place_that_is_no_number_and_a_field_that_nobody_knows_are_refused() -> None:
    told = json.loads(facts_bytes(HEADING))
    told["damages"][0]["from_m"] = "here"

    assert refused("report_heading.json", told | {"more": 1}) == ["$", "$.damages[0].from_m"]


def test_what_every_report_says_is_described_in_words() -> None:
    for schema in PUBLISHED.values():
        assert "up to which entries were known" in schema["properties"]["as_at"]["description"]
