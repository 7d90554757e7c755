"""A round whose ground changes within it: each row by its own class, the stricter across."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess import assess
from fieldapp.assess.demanded import UnknownSupportClass
from fieldapp.assess.seen import seen_in
from schemas.bodies.round import LengthReading
from schemas.bodies.second_domain import SecondDomain
from schemas.bundle import Bundle
from schemas.findings import Assessment, Verdict
from schemas.standard import SupportClass
from tests.unit.assess.conforming import STANDARD, conforming

D1 = STANDARD.classes[0]
LIGHT, TIGHT = "L9", "T9"
SPLIT = Decimal("1387.5")
"""Between row 1, 0.9 m past the joint at 1386.4 m, and row 2, another 0.9 m on."""


def variant(code: str, **limits: dict[str, Any]) -> SupportClass:
    """Give a class that differs from D1 by its code and some limits."""
    said = D1.model_dump(mode="json")
    for name, changes in limits.items():
        said["limits"][name] |= changes
    return SupportClass.model_validate(said | {"code": code})


def split(bundle: Bundle, second: SupportClass, at: Decimal = SPLIT) -> Bundle:
    """Let the ground change within a round."""
    standard = bundle.standard.model_copy(update={"classes": (*STANDARD.classes, second)})
    domain = SecondDomain(from_m=at, support_class=second.code, told_by="the plan")
    seen = bundle.round.model_copy(update={"second_domain": domain})
    return bundle.model_copy(update={"standard": standard, "round": seen})


def verdicts(found: Assessment, check: str) -> dict[str, Verdict]:
    return {it.title: it.verdict for it in found.findings if it.check == check}


def ahead(bundle: Bundle, number: int, value: str) -> Bundle:
    """Read a row so far ahead of the one before."""
    reading = LengthReading(value_m=Decimal(value), method="tape")
    rows = tuple(
        row.model_copy(update={"ahead_of_row_before": reading}) if row.number == number else row
        for row in bundle.round.rows
    )
    return bundle.model_copy(update={"round": bundle.round.model_copy(update={"rows": rows})})


TIGHTER = variant(TIGHT, row_spacing={"at_most_m": "0.95"}, largest_gap={"at_most_m": "1.5"})
LOOSER = variant(LIGHT, row_spacing={"at_most_m": "1.80"})


def test_a_conforming_round_of_two_alike_grounds_is_accepted_and_names_both() -> None:
    found = assess(split(conforming(rows=4), variant(LIGHT)))

    assert found.may_be_accepted
    assert found.support_class == f"D1, from {SPLIT} m {LIGHT}"
    assert set(verdicts(found, "bolt_spacing")) == {"Bolt spacing, D1", f"Bolt spacing, {LIGHT}"}


def test_each_row_stands_in_its_own_domain() -> None:
    rows = seen_in(split(conforming(rows=4), variant(LIGHT))).rows

    assert [it.domain for it in rows] == [0, 1, 1, 1]


def test_a_row_past_the_split_may_stand_as_far_as_its_own_class_lets_it() -> None:
    """Row 3 stands 1.3 m ahead of row 2: too far for D1, not for the class past the split."""
    wide = ahead(conforming(rows=4), 3, "1.30")

    assert Verdict.ACCEPT not in verdicts(assess(wide), "row_spacing").values()
    assert set(verdicts(assess(split(wide, LOOSER)), "row_spacing").values()) == {Verdict.ACCEPT}


def test_a_row_before_the_split_is_judged_by_the_first_class() -> None:
    wide = ahead(conforming(rows=4), 1, "1.30")
    found = verdicts(assess(split(wide, LOOSER, at=Decimal("1388.0"))), "row_spacing")

    assert found["Row spacing, D1"] is not Verdict.ACCEPT
    assert found[f"Row spacing, {LIGHT}"] is Verdict.ACCEPT


@pytest.mark.parametrize("second", [LOOSER, TIGHTER])
def test_across_the_split_the_stricter_class_governs(second: SupportClass) -> None:
    """Row 2 stands across it: 1.3 m is too far for D1 and for the tighter class alike."""
    across = ahead(conforming(rows=4), 2, "1.30")
    found = verdicts(assess(split(across, second)), "row_spacing")

    assert any(verdict is not Verdict.ACCEPT for verdict in found.values())


def test_a_tighter_class_past_the_split_judges_the_gaps_there() -> None:
    """D1's intact pattern leaves circles wider than 1.5 m: fine before the split, not past it."""
    found = verdicts(assess(split(conforming(rows=5), TIGHTER)), "largest_gap")

    assert found["Largest gap, D1"] is Verdict.ACCEPT
    assert found[f"Largest gap, {TIGHT}"] is not Verdict.ACCEPT


def test_where_the_rock_steps_out_between_two_classes_rows_are_read_along_it() -> None:
    """The drive is 1.0 m wider past the split: each row there steps out 0.5 m on each wall."""
    said = D1.model_dump(mode="json")
    said["profile"]["width_m"] = str(Decimal(said["profile"]["width_m"]) + 1)
    wider = SupportClass.model_validate(said | {"code": "W9"})
    rows = seen_in(split(conforming(rows=4), wider)).rows

    assert [it.step_m > 0.4 for it in rows] == [False, True, False, False]
    assert len(rows[2].demanded.s_m) >= len(rows[0].demanded.s_m)


@pytest.mark.parametrize(
    ("at", "words"),
    [("1400", "past the last row"), ("1387.5", "of the same class")],
)
def test_a_change_that_changes_nothing_is_a_contradiction(at: str, words: str) -> None:
    second = D1 if at == "1387.5" else variant(LIGHT)
    found = assess(split(conforming(rows=4), second, at=Decimal(at)))
    said = [place.words for it in found.findings for place in it.places if it.check == "domains"]

    assert not found.may_be_accepted
    assert words in said[0]


def test_a_class_that_the_standard_does_not_have_is_refused() -> None:
    bundle = split(conforming(rows=4), variant(LIGHT))
    with pytest.raises(UnknownSupportClass):
        assess(bundle.model_copy(update={"standard": STANDARD}))


def test_it_is_complete_no_farther_than_by_either_class() -> None:
    """What bars a row by the class past the split ends the run of complete rows before it."""
    wide = ahead(conforming(rows=4), 3, "1.30")
    found = assess(split(wide, TIGHTER))

    assert found.rows_complete_to_m == Decimal("1388.20"), "row 2: row 3 stands too far ahead"


@settings(max_examples=25, deadline=None)
@given(at=st.decimals("1380", "1400", places=2), rows=st.integers(1, 6))
def test_wherever_it_changes_to_the_same_demands_nothing_becomes_milder(
    at: Decimal, rows: int
) -> None:
    """One bolt row too far ahead is never accepted, wherever a like class is said to begin."""
    wide = ahead(conforming(rows=rows), rows, "1.60")

    assert not assess(split(wide, variant(LIGHT), at=at)).may_be_accepted


def test_what_both_classes_say_alike_is_said_once_and_names_neither() -> None:
    found = assess(split(conforming(rows=4), variant(LIGHT)))

    assert list(verdicts(found, "barring_down")) == ["Barring down"]
    assert len(verdicts(found, "mesh_lap")) == 1
