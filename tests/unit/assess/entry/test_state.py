"""The entry line of a heading from plain facts, worked out by hand."""

from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal

import pytest

from fieldapp.assess.entry.state import HeadingFacts, RoundFact, entry_state
from schemas.bodies.sign_off import Decision
from schemas.findings import Verdict

AT = datetime(2031, 5, 6, 9, tzinfo=UTC)


def fact(
    number: int, joint: str, last_row: str, decision: Decision | None, line: str | None
) -> RoundFact:
    return RoundFact(
        round_id=str(number),
        number=number,
        joint_m=Decimal(joint),
        last_row_m=Decimal(last_row),
        decision=decision,
        entry_line_m=None if line is None else Decimal(line),
    )


def line(*rounds: RoundFact, face: str = "110.0") -> Decimal:
    facts = HeadingFacts(
        last_row_m=Decimal("100.0"),
        face_m=Decimal(face),
        fired_from_m=Decimal("100.8"),
        face_allowance_m=Decimal("1.0"),
        two_rows_m=Decimal("1.8"),
        rounds=rounds,
    )
    return entry_state(facts, AT).line_m


def test_rounds_accepted_one_after_the_other_carry_the_line_on() -> None:
    first = fact(1, "100.0", "103.6", "accepted", "103.6")
    second = fact(2, "103.6", "107.2", "accepted", "107.2")

    assert line(first, second) == Decimal("107.2")


def test_mesh_that_ended_short_is_covered_by_the_next_accepted_round() -> None:
    first = fact(1, "100.0", "103.6", "accepted", "103.5")
    second = fact(2, "103.6", "107.2", "accepted", "107.2")

    assert line(first, second) == Decimal("107.2")


def test_mesh_that_ends_short_holds_the_line_short() -> None:
    assert line(fact(1, "100.0", "103.6", "accepted", "103.5")) == Decimal("103.5")


def test_a_round_beyond_one_that_was_not_accepted_opens_nothing() -> None:
    first = fact(1, "100.0", "103.6", "sent back", "100.0")
    second = fact(2, "103.6", "107.2", "accepted", "107.2")

    assert line(first, second) == Decimal("100.0")


def test_a_hole_between_two_rounds_ends_the_run() -> None:
    first = fact(1, "100.0", "103.6", "accepted", "103.6")
    second = fact(2, "104.5", "107.2", "accepted", "107.2")

    assert line(first, second) == Decimal("103.6")


@pytest.mark.parametrize("decision", ["sent back", "barricaded"])
def test_anything_but_accepted_stays_behind_its_joint(decision: Decision) -> None:
    first = fact(1, "100.0", "103.6", "accepted", "103.6")
    second = fact(2, "103.6", "107.2", decision, "103.6")

    assert line(first, second) == Decimal("103.6")


def test_until_somebody_signs_the_two_old_rows_beside_a_round_count_for_nothing() -> None:
    """The round was fired for: what somebody saw of the old rows is not yet anybody's word."""
    first = fact(1, "100.0", "103.6", "accepted", "103.6")

    assert line(first, fact(2, "103.6", "107.2", None, None)) == Decimal("101.8")


@pytest.mark.parametrize("decision", ["sent back", "barricaded"])
def test_old_rows_not_confirmed_hold_the_line_before_them(decision: Decision) -> None:
    first = fact(1, "100.0", "103.6", "accepted", "103.6")
    second = fact(2, "103.6", "107.2", decision, "101.8")

    assert line(first, second) == Decimal("101.8")


def test_where_something_may_be_missing_nothing_is_known_from_the_portal_on() -> None:
    facts = HeadingFacts(
        last_row_m=Decimal("100.0"),
        face_m=Decimal("100.0"),
        fired_from_m=Decimal("100.0"),
        face_allowance_m=Decimal("1.0"),
        two_rows_m=Decimal("1.8"),
    )
    whole, lacking = entry_state(facts, AT), entry_state(replace(facts, not_whole=True), AT)

    assert (whole.state, whole.line_m) == ("entry allowed", Decimal("100.0"))
    assert (lacking.state, lacking.outbye) == ("not known", "not known")
    assert lacking.line_m == 0
    assert lacking.verdict is Verdict.NOT_LOOKED_AT
    assert lacking.because == ("what was stated here is missing or altered on this tablet",)


def test_a_tablet_that_the_office_revoked_lets_nobody_in_by_what_it_accepted() -> None:
    accepted = HeadingFacts(
        last_row_m=Decimal("100.0"),
        face_m=Decimal("103.6"),
        fired_from_m=Decimal("100.0"),
        face_allowance_m=Decimal("1.0"),
        two_rows_m=Decimal("1.8"),
        rounds=(fact(1, "100.0", "103.6", "accepted", "103.6"),),
    )
    assert entry_state(accepted, AT).line_m == Decimal("103.6")
    revoked = entry_state(replace(accepted, revoked=True), AT)

    assert (revoked.state, revoked.outbye) == ("not known", "not known")
    assert revoked.line_m == 0
    assert "the office has revoked this tablet: go by another one" in revoked.stays
