from decimal import Decimal

import pytest

from fieldapp.assess import assess
from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.demanded import UnknownSupportClass
from fieldapp.assess.seen import Row, seen_in
from schemas.bodies.round import BoltSeen, ProfileSeen, RowSeen
from schemas.bundle import Bundle
from tests.unit.assess.conforming import (
    JOINT,
    conforming,
    counted,
    length,
    loose,
    with_bolts,
    with_round,
    with_row,
)


def row(bundle: Bundle, number: int) -> Row:
    return next(one for one in seen_in(bundle).all_rows if one.number == number)


def bolt(bundle: Bundle, number: int, position: int) -> Bolt:
    return row(bundle, number).bolts.positions[position - 1]


def placed(s_m: str, **more: object) -> BoltSeen:
    return BoltSeen.model_validate({"s_m": s_m, "method": "tape", "state": "present", **more})


def test_a_round_of_a_class_that_its_standard_does_not_have() -> None:
    with pytest.raises(UnknownSupportClass) as refused:
        assess(conforming(support_class="X9"))

    assert refused.value.code == "X9"


def test_rows_stand_where_they_were_measured() -> None:
    bundle = with_row(conforming(), 2, ahead_of_row_before=length("1.05"))

    assert [one.chainage_m - JOINT for one in seen_in(bundle).rows] == [
        Decimal("0.9"),
        Decimal("1.95"),
        Decimal("2.85"),
    ]


def test_old_rows_are_numbered_back_from_the_joint() -> None:
    assert [one.number for one in seen_in(conforming()).all_rows] == [-1, 0, 1, 2, 3]
    assert [one.name for one in seen_in(conforming()).old_rows] == [
        "the old row before it",
        "the last old row",
    ]


def test_a_row_touched_beyond_those_planned_is_seen_too() -> None:
    rows = (*conforming().round.rows, RowSeen(number=4, counted=counted(9)))

    assert len(seen_in(with_round(conforming(), rows=rows)).rows) == 4


def test_a_bolt_in_a_counted_row_stands_at_its_position_assumed_and_seated() -> None:
    one = bolt(conforming(), 1, 5)

    assert (one.method, one.seated, one.counts) == ("assumed", True, True)
    assert one.s_m == pytest.approx(0.0)


def test_a_bolt_known_by_its_place_alone_stands_for_the_position_it_is_at() -> None:
    bundle = with_bolts(conforming(), 1, placed("0.12"))

    assert bolt(bundle, 1, 5).s_m == pytest.approx(0.12)
    assert row(bundle, 1).bolts.extra == ()


def test_a_bolt_away_from_every_position_is_extra_and_takes_none() -> None:
    bundle = with_bolts(conforming(), 1, placed("0.60"))

    assert [one.s_m for one in row(bundle, 1).bolts.extra] == [0.6]
    assert bolt(bundle, 1, 5).s_m == pytest.approx(0.0)


def test_in_a_row_that_nobody_counted_placed_bolts_are_all_there_is() -> None:
    bundle = with_row(conforming(), 1, counted=None)
    bundle = with_bolts(bundle, 1, placed("0.40", plate="seated"), placed("1.30"))
    seen = row(bundle, 1).bolts.positions

    assert [one.position for one in seen if one.looked_at] == [5, 6]
    assert [one.seated for one in seen if one.looked_at] == [True, None]


def test_a_loose_plate_leaves_a_grouted_bar_anchored_and_no_other() -> None:
    bar = bolt(with_bolts(conforming("D1"), 1, loose(3)), 1, 3)
    anchored_at_a_point = bolt(with_bolts(conforming("O2"), 1, loose(3)), 1, 3)

    assert (bar.plated, bar.anchored) == (False, True)
    assert (anchored_at_a_point.plated, anchored_at_a_point.anchored) == (False, False)


def test_the_bolter_speaks_of_this_round_not_of_the_old_rows() -> None:
    bundle = conforming()
    other = bundle.round.bolter.model_copy(update={"bolt_type": "other"})
    seen = seen_in(with_round(bundle, bolter=other))

    assert not any(one.counts for one in seen.rows[0].all_bolts)
    assert all(one.counts for one in seen.old_rows[0].all_bolts)


def test_old_rows_lie_on_the_profile_of_the_round_before() -> None:
    wide = ProfileSeen(width_m=Decimal("6.0"), rise_m=Decimal("2.6"), method="tape")
    before = conforming(profile=wide).round
    bundle = conforming(profile=wide).model_copy(update={"previous_round": before})

    assert len(row(bundle, 0).demanded.s_m) == len(row(bundle, 1).demanded.s_m)
    assert [it.step_m for it in seen_in(bundle).rows] == [0.0, 0.0, 0.0]
    assert seen_in(conforming(profile=wide)).rows[0].step_m > 0.5
