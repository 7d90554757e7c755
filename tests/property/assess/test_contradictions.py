"""One contradiction planted anywhere in a round that conforms, and it is never accepted."""

import json
from decimal import Decimal

from hypothesis import assume, given, settings
from hypothesis import strategies as st

from fieldapp.assess import assess
from schemas.bundle import Bundle
from schemas.canonical import canonical_bytes
from schemas.findings import Verdict
from tests.property.assess.planted import BUNDLES, Plant, codes, metres, plants, rows
from tests.property.assess.rounds import blanks, defects
from tests.property.cli.test_assess import assessed


def test_what_the_contradictions_are_planted_in_is_accepted() -> None:
    assert [assess(bundle).headline for bundle in BUNDLES.values()] == ["accept"] * 3


@settings(max_examples=500, deadline=None)
@given(codes, plants)
def test_a_planted_contradiction_is_never_accepted(code: str, plant: Plant) -> None:
    assessment = assess(plant(BUNDLES[code]))

    assert not assessment.may_be_accepted
    assert assessment.verdict is not Verdict.ACCEPT
    assert assessment.held_at.gravity >= Verdict.REWORK.gravity


@settings(max_examples=100, deadline=None)
@given(codes, plants, st.lists(defects | blanks, max_size=2))
def test_nothing_else_in_the_round_makes_a_contradiction_acceptable(
    code: str, plant: Plant, others: list[Plant]
) -> None:
    bundle = plant(BUNDLES[code])
    planted = changed(BUNDLES[code], bundle)
    for other in others:
        before, bundle = bundle, other(bundle)
        assume(not planted & changed(before, bundle))  # else it may take away what was planted

    assert not assess(bundle).may_be_accepted


def changed(before: Bundle, after: Bundle) -> set[str]:
    """Give what of a round is not as it was."""
    return {
        name
        for name in type(before.round).model_fields
        if getattr(before.round, name) != getattr(after.round, name)
    }


@settings(max_examples=60, deadline=None)
@given(codes, plants)
def test_it_ends_the_command_with_another_code_than_accepted(code: str, plant: Plant) -> None:
    raw = canonical_bytes(plant(BUNDLES[code]).model_dump(mode="json", exclude_none=True))
    exit_code, out, _ = assessed(raw)

    assert exit_code in (2, 3, 4)
    assert exit_code == 2 or json.loads(out)["headline"] != "accept"


@given(rows, metres)
def test_an_advance_back_outbye_is_refused_where_it_stands(row: int, by: Decimal) -> None:
    found = BUNDLES["D1"].model_dump(mode="json", exclude_none=True)
    found["round"]["rows"][row - 1]["ahead_of_row_before"]["value_m"] = f"-{by}"
    exit_code, _, err = assessed(canonical_bytes(found))

    assert exit_code == 2
    assert f"$.round.rows[{row - 1}].ahead_of_row_before.value_m" in err
