"""What a round takes by the demo mine's standard, reckoned by hand beside each figure."""

from dataclasses import replace
from decimal import Decimal

import pytest

from fieldapp.assess.laps import LapLargerThanSheet
from fieldapp.assess.take_off import (
    NoSuchAdvance,
    TakeOff,
    least_lap_mm,
    resin_of_bolt,
    take_off,
    take_off_of_round,
    wanted_by_round,
    wanted_for,
)
from fieldapp.assess.take_off.mesh import strips_from
from schemas.bodies.round import ProfileSeen, Round
from schemas.bodies.second_domain import SecondDomain
from schemas.standard import SupportClass
from tests.standards import D1, O2, W3, changed, put
from tests.unit.assess.conforming import STANDARD, conforming, length


def of_class(index: int, **fields: object) -> SupportClass:
    return changed(put(index, "", **fields)).classes[index]


def per_round(found: TakeOff) -> dict[str, Decimal]:
    return {" ".join(filter(None, (it.kind, it.of))): it.per_round for it in found.items}


def test_a_round_of_sheets_takes_nine_bolts_a_row_and_five_sheets_across() -> None:
    # 3.6 m at 0.9 m are 4 rows of 9; a sheet of 3.0 m lapped 0.3 m advances 2.7 m, so 2 × 5
    found = take_off(of_class(D1), wanted_for(of_class(D1), Decimal("3.6")))

    assert per_round(found) == {
        "bolts RB24": 36, "plates 200 mm": 36, "capsules RB24": 36 * 3, "sheets": 10,
        "mesh": Decimal("72.0"),
    }  # fmt: skip


def test_a_round_of_strips_says_what_to_order_and_how_far_a_pack_goes() -> None:
    # 8.333 m of rock and 0.3 m past either end; 2.1 m and 0.3 m of lap; a pack has 3 of 9.0 m
    found = take_off(of_class(O2), wanted_for(of_class(O2), Decimal("2.4")))

    assert found.mesh is not None
    strip = found.mesh.strip
    assert strip is not None
    assert (strip.width_m, strip.length_m, strip.per_pack) == (Decimal("2.7"), Decimal("8.933"), 3)
    assert per_round(found)["strips"] == 1
    assert per_round(found)["packs"] == Decimal("0.333")
    assert strip.longer_than_stock_m == 0


def test_a_staggered_round_goes_on_from_the_row_before() -> None:
    # rows of 7 and 6 in turn: 7 + 6 + 7 behind an offset row, 6 + 7 + 6 behind a full one
    ore = of_class(O2)
    behind_full = wanted_for(ore, Decimal("3.6"))
    behind_offset = wanted_for(ore, Decimal("3.6"), after_offset_row=True)

    assert per_round(take_off(ore, behind_full))["bolts PB24"] == 19
    assert per_round(take_off(ore, behind_offset))["bolts PB24"] == 20


def test_overbreak_takes_more_bolts_and_a_longer_strip() -> None:
    ore, broken = (
        of_class(O2),
        ProfileSeen(width_m=Decimal("5.2"), rise_m=Decimal("2.1"), method="laser"),
    )
    designed = take_off(ore, wanted_for(ore, Decimal("2.4")))
    overbroken = take_off(ore, wanted_for(ore, Decimal("2.4"), profile=broken))

    assert overbroken.line_m > designed.line_m
    assert per_round(overbroken)["bolts PB24"] > per_round(designed)["bolts PB24"]
    assert overbroken.mesh is not None
    assert overbroken.mesh.strip is not None
    assert overbroken.mesh.strip.longer_than_stock_m == overbroken.line_m + Decimal("0.6") - 9


def test_bolts_are_counted_by_the_type_that_is_named_for_their_zone() -> None:
    bolt = of_class(D1).bolts[0].model_dump(mode="json")
    walls = {**bolt, "code": "SB18", "plate_mm": "150", "zones": ["left wall", "right wall"]}
    rest = {**bolt, "zones": ["left shoulder", "back", "right shoulder"]}
    decline = of_class(D1, bolts=[rest, walls])
    found = per_round(take_off(decline, wanted_for(decline, Decimal("0.9"))))

    # 9 bolts on 9.916 m stand 1.240 m apart; the walls are the lowest 1.5 m on either side
    assert found["bolts SB18"] == found["plates 150 mm"] == 4
    assert found["bolts RB24"] == found["plates 200 mm"] == 5


def test_shotcrete_takes_no_mesh_and_cement_no_capsules() -> None:
    wide = of_class(W3)

    assert per_round(take_off(wide, wanted_for(wide, Decimal("1.2")))) == {
        "bolts LB50": 9, "plates 250 mm": 9,
    }  # fmt: skip
    assert least_lap_mm(wide) == 0


def test_a_recorded_round_is_reckoned_from_its_joint_to_its_last_row() -> None:
    bundle = conforming()
    demanded = bundle.standard.support_class(bundle.round.support_class)
    assert demanded is not None
    wanted = wanted_by_round(demanded, bundle.round)

    read = [row.ahead_of_row_before for row in bundle.round.rows]
    assert wanted.rows == len(bundle.round.rows)
    assert wanted.advance_m == sum(it.value_m for it in read if it is not None)


def test_the_resin_of_a_point_anchor_fills_its_end_alone() -> None:
    # 0.6 · (28² − 20²)/24² = 0.4 m: one capsule of 0.6 m fills it, and half as much again
    resin = resin_of_bolt(of_class(O2).bolts[0])

    assert resin is not None
    assert (resin.capsule_m, resin.capsules, resin.fills_share) == (
        Decimal("0.4"),
        1,
        Decimal("1.5"),
    )


def test_a_roll_shorter_than_a_strip_gives_none() -> None:
    assert strips_from(Decimal(25), Decimal("9.0"), None, Decimal("0.3")) == 2
    assert strips_from(Decimal(8), Decimal("9.0"), None, Decimal("0.3")) == 0


@pytest.mark.parametrize("advance", ["0", "100.1"])
def test_no_advance_and_one_of_a_whole_drive_are_refused(advance: str) -> None:
    with pytest.raises(NoSuchAdvance):
        wanted_for(of_class(D1), Decimal(advance))


def test_a_lap_as_wide_as_the_sheet_is_refused() -> None:
    with pytest.raises(LapLargerThanSheet):
        take_off(of_class(D1), wanted_for(of_class(D1), Decimal("3.6"), Decimal(2400)))


def test_one_overbroken_row_takes_its_own_bolts_and_a_strip_as_long_as_it_needs() -> None:
    ore = of_class(O2)
    broken = ProfileSeen(width_m=Decimal("5.2"), rise_m=Decimal("2.1"), method="laser")
    designed = wanted_for(ore, Decimal("3.6"))
    one = replace(designed, profiles=(broken, *designed.profiles[1:]))
    every = replace(designed, profiles=(broken,) * designed.rows)

    bolts = [per_round(take_off(ore, it))["bolts PB24"] for it in (designed, one, every)]
    assert bolts[0] < bolts[1] < bolts[2]
    assert (
        take_off(ore, one).line_m == take_off(ore, every).line_m > take_off(ore, designed).line_m
    )


def test_a_round_split_between_two_classes_is_taken_off_by_part_and_summed() -> None:
    """Three rows at 0.9 m by D1 as far as 2.7 m, the rest by O2, to the last row."""
    split = two_grounds("2.8")
    found = take_off_of_round(STANDARD, split)
    assert found is not None

    assert [(it.support_class, it.wanted.rows) for it in found.parts] == [("D1", 3), ("O2", 2)]
    assert [it.wanted.advance_m for it in found.parts] == [Decimal("2.8"), Decimal("2.0")]
    both = {name: much for part in found.parts for name, much in per_round(part).items()}
    assert per_round(found).keys() == both.keys()
    assert per_round(found)["mesh"] == sum(per_round(it)["mesh"] for it in found.parts)
    assert per_round(found)["bolts RB24"] == 27
    assert found.support_class == f"D1, from {split.joint_m + Decimal('2.8')} m O2"


def test_a_split_past_the_last_row_or_at_the_joint_leaves_one_class() -> None:
    past, joint = two_grounds("9.0"), two_grounds("0.0")

    assert take_off_of_round(STANDARD, past) == take_off_of_round(
        STANDARD, past.model_copy(update={"second_domain": None})
    )
    found = take_off_of_round(STANDARD, joint)
    assert found is not None
    assert (found.support_class, found.parts) == ("O2", ())


def test_nothing_is_taken_off_by_a_class_that_the_standard_has_not() -> None:
    split = two_grounds("2.8")
    second = SecondDomain(from_m=split.joint_m + 1, support_class="X9", told_by="the plan")

    assert take_off_of_round(STANDARD, split.model_copy(update={"second_domain": second})) is None


def two_grounds(split_m: str) -> Round:
    """Five rows by D1, and O2 past so many metres from the joint; the last at 4.8 m."""
    seen = conforming(rows=5).round
    rows = (
        *seen.rows[:3],
        *(row.model_copy(update={"ahead_of_row_before": length("1.05")}) for row in seen.rows[3:]),
    )
    from_m = seen.joint_m + Decimal(split_m)
    second = SecondDomain(from_m=from_m, support_class="O2", told_by="the plan")
    return seen.model_copy(update={"rows": rows, "second_domain": second})
