"""A table of priorities that can't be looked up, or ranks damage the wrong way, is refused."""

from typing import Any

import pytest

from fieldapp.assess.standard_check import refusals, warnings
from fieldapp.assess.standard_words import mine_in_words
from tests.standards import Change, changed, put_in

S3_E2, S3_E3 = 13, 14
"""Where the demo's table has them: four exposures for each of S0 to S5."""


def taken_out(index: int) -> Change:
    def change(document: Any) -> None:
        del document["rehab_matrix"][index]

    return change


@pytest.mark.parametrize(
    ("change", "path", "reason"),
    [
        (taken_out(S3_E3), "$.rehab_matrix", "nothing stands for S3 under E3"),
        (
            put_in("rehab_matrix", S3_E3, exposure="E2"),
            "$.rehab_matrix[14]",
            "S3 under E2 stands there twice",
        ),
        (
            put_in("rehab_matrix", S3_E3, priority="P9"),
            "$.rehab_matrix[14].priority",
            "P9 is none of the standard's priorities",
        ),
        (
            put_in("rehab_matrix", S3_E3, exposure="E7"),
            "$.rehab_matrix[14].exposure",
            "E7 is none of the standard's exposures",
        ),
        (
            put_in("rehab_matrix", S3_E3, severity="R3"),
            "$.rehab_matrix[14].severity",
            "R3 is none of the standard's severities",
        ),
        (
            put_in("rehab_matrix", S3_E2, priority="P4"),
            "$.rehab_matrix[13].priority",
            "S3 is graver than S2, and P4 is less urgent than its P3",
        ),
        (
            put_in("priorities", 1, holds=None),
            "$.priorities[1].holds",
            "nothing says what entry is beneath damage of P2",
        ),
        (
            put_in("priorities", 2, holds="no entry"),
            "$.priorities[2].holds",
            "P3 is less urgent and would hold entry more strictly",
        ),
        (put_in("exposures", 1, code="E1"), "$.exposures[1].code", "E1 stands there twice"),
    ],
)
def test_a_table_is_refused_by_its_place_and_its_reason(
    change: Change, path: str, reason: str
) -> None:
    found = [fault.reason for fault in refusals(changed(change)) if fault.path == path]

    assert any(reason in told for told in found), found


def test_a_standard_without_a_table_still_opens_and_the_engineer_is_told() -> None:
    """As one reads that was written before there were tables."""

    def change(document: Any) -> None:
        for newer in ("exposures", "rehab_matrix", "growth", "rehab"):
            del document[newer]
        for priority in document["priorities"]:
            del priority["holds"]
        document["walk"]["intervals"] = []

    older = changed(change)

    assert refusals(older) == ()
    assert "$.rehab_matrix" in [doubt.path for doubt in warnings(older)]


def test_the_table_is_read_out_by_severity() -> None:
    demo = changed(lambda document: document)
    said = [line.demanded for part in mine_in_words(demo) for line in part.lines]

    assert "Damage of S3: E1 P3, E2 P2, E3 P2, E4 P1." in said
    assert "New mesh laps sound old mesh by at least 3 openings." in said


def test_a_verdict_on_growth_of_nothing_is_refused() -> None:
    """Damage that is seen again and hasn't changed must not be raised."""
    with pytest.raises(Exception, match="grown_by") as caught:
        changed(put_in("growth", grown_by="0"))

    assert getattr(caught.value, "path", None) == "$.growth.grown_by"
