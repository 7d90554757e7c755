"""Which bolts and bays are looked at, so that "none found" means something."""

from decimal import Decimal
from typing import Any

from fieldapp.assess.pattern import ZoneBorders
from fieldapp.assess.walk import BoltThere, RowThere, ToLookAt, to_look_at
from schemas.walk_rules import LookedAtShare

SEED = "Wrenfall, 4180 Main, 2031-05"
BORDERS = ZoneBorders(-5, -3, 3, 5)


def rule(of: str = "bolts", **said: Any) -> LookedAtShare:
    body = {"of": of, "confidence": "0.95", "bad_share_at_most": "0.05", "because": "S-2, 10.9"}
    return LookedAtShare.model_validate(body | said)


def row(number: int, *s_m: float, estimated: bool = False) -> RowThere:
    bolts = tuple(BoltThere(at, it) for at, it in enumerate(s_m, start=1))
    at_m = Decimal(number) * Decimal("1.2")
    return RowThere(f"r {number}", f"row {number}", at_m, "D1", bolts, BORDERS, estimated)


def back_of(bolts: int) -> list[RowThere]:
    """Give so many bolts in the back of a drive, four in a row."""
    return [row(it, -1.5, -0.5, 0.5, 1.5) for it in range(bolts // 4)]


def one(rows: list[RowThere], share: LookedAtShare) -> ToLookAt:
    (found,) = to_look_at(rows, [share], SEED)
    return found


def test_of_120_bolts_47_are_drawn_for_95_and_95() -> None:
    found = one(back_of(120), rule())

    assert (found.stratum, found.there, len(found.spots)) == ("D1, back", 120, 47)
    assert found.words == (
        "look at 47 of 120 bolts; none found would mean at most 5 % bad, 95 % confidence"
    )


def test_the_plan_of_iso_2859_1_stands_beside_it() -> None:
    """Lot 120, level II, AQL 2.5 %: code letter F, 20 looked at, 1 is let pass (table 2-A)."""
    found = one(back_of(120), rule(aql_percent="2.5"))

    assert found.words.endswith("; ISO 2859-1, level II, AQL 2.5 %: 20, at most 1 bad")


def test_each_zone_of_a_class_is_a_stratum_of_its_own() -> None:
    rows = [row(it, -6, -4, 0, 4, 6) for it in range(3)]

    assert [(it.stratum, it.there) for it in to_look_at(rows, [rule()], SEED)] == [
        ("D1, back", 3),
        ("D1, left shoulder", 3),
        ("D1, left wall", 3),
        ("D1, right shoulder", 3),
        ("D1, right wall", 3),
    ]


def test_a_bay_lies_between_two_rows_and_two_bolts_of_the_outbye_one() -> None:
    found = one([row(1, -0.5, 0.5), row(2, -0.5, 0.5)], rule("bays"))
    (spot,) = found.spots

    assert spot.words == "inbye of row 1, between bolts 1 and 2"
    assert (spot.chainage_m, spot.s_m) == (Decimal("1.8"), Decimal(0))


def test_ground_without_a_record_is_estimated_and_said_to_be() -> None:
    rows = [row(it, -0.5, 0.5, estimated=it < 10) for it in range(20)]

    assert "; 20 of them by the class's pattern, nothing is on record" in one(rows, rule()).words
    assert (
        "; all of them by the class's pattern, nothing is on record"
        in one(rows[:10], rule()).words
    )


def test_whoever_draws_again_draws_the_same_in_whatever_order_rows_are_known() -> None:
    rows = back_of(120)

    assert one(rows, rule()) == one(rows[::-1], rule())


def test_a_new_row_displaces_at_most_its_own_bolts() -> None:
    rows = back_of(160)
    before, after = (set(one(it, rule()).spots) for it in (rows[:-1], rows))

    assert len(before - after) <= 4


def test_where_no_row_is_there_nothing_is_drawn() -> None:
    assert to_look_at([], [rule()], SEED) == ()
