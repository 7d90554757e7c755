"""The joint, and old rows or a round before that are not there."""

from decimal import Decimal
from typing import Any

import pytest

from schemas.bundle import Bundle
from schemas.findings import Verdict
from tests.unit.assess.conforming import JOINT, conforming, with_round
from tests.unit.assess.contradictions.contradicted import contradicted, the_one


def with_old(*chainages: str) -> Bundle:
    rows = conforming().round.old_rows
    moved = (
        row.model_copy(update={"chainage_m": Decimal(at)})
        for row, at in zip(rows, chainages, strict=True)
    )
    return with_round(conforming(), old_rows=tuple(moved))


def test_a_last_old_row_that_is_not_at_the_joint() -> None:
    assert the_one(with_old("1381.10", "1382.00")) == (
        "old_rows",
        "the last old row at 1382.00 m is not at the joint at 1386.40 m",
        Verdict.NOT_LOOKED_AT,
    )


def test_an_old_row_inbye_of_the_joint() -> None:
    assert the_one(with_old("1385.50", "1387.00"))[0] == "old_rows"


@pytest.mark.parametrize("first", ["1386.40", "1386.45"])
def test_old_rows_at_one_place_or_in_the_wrong_order(first: str) -> None:
    assert the_one(with_old(first, "1386.40"))[1] == (
        f"the old row at {first} m is not outbye of the last one at 1386.40 m"
    )


def test_chainages_exchanged() -> None:
    assert {it.check for it in contradicted(with_old("1386.40", "1385.50"))} == {"old_rows"}


def with_before(**changes: Any) -> Bundle:
    before = conforming(rows=4, joint_m=JOINT - Decimal("3.60"), number=411).round
    before = before.model_copy(update=changes)
    return conforming().model_copy(update={"previous_round": before})


def test_a_round_before_that_ends_at_the_joint_agrees() -> None:
    assert contradicted(with_before()) == []


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        (
            {"joint_m": Decimal("1300.00")},
            "the round before ends at 1303.60 m, this one begins at 1386.40 m",
        ),
        ({"number": 412}, "the round before is round 412, this is round 412"),
        ({"heading": "elsewhere"}, "the round before is another heading's"),
    ],
)
def test_a_round_before_that_is_not_the_one_before(changes: dict[str, Any], words: str) -> None:
    assert the_one(with_before(**changes)) == ("round_before", words, Verdict.NOT_LOOKED_AT)
