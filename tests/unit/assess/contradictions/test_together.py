"""Contradictions and the rest of an assessment."""

import pytest

from fieldapp.assess import assess
from schemas.canonical import canonical_bytes
from tests.unit.assess.conforming import conforming, counted, with_row
from tests.unit.assess.contradictions.contradicted import contradicted, with_heading


@pytest.mark.parametrize("code", ["D1", "O2", "W3"])
def test_facts_that_agree_add_no_finding(code: str) -> None:
    assert contradicted(conforming(code)) == []


def test_nothing_is_complete_where_the_record_as_a_whole_contradicts_itself() -> None:
    assert assess(with_heading(support_class="O2")).rows_complete_to_m is None


def test_rows_are_complete_up_to_the_one_that_contradicts_itself() -> None:
    bundle = with_row(conforming(), 3, counted=counted(12))

    assert str(assess(bundle).rows_complete_to_m) == "1388.20"


def test_a_contradiction_is_written_down_like_any_finding() -> None:
    assessment = assess(with_heading(support_class="O2"))

    assert canonical_bytes(assessment.model_dump(mode="json"))
    assert assessment.headline == "1 not looked at"
