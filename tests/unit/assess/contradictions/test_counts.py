"""Plates counted that no bolt can carry."""

from decimal import Decimal

from schemas.bodies.round import BoltSeen
from schemas.findings import Verdict
from tests.unit.assess.conforming import (
    conforming,
    counted,
    missing,
    with_bolts,
    with_round,
    with_row,
)
from tests.unit.assess.contradictions.contradicted import contradicted, the_one


def test_more_plates_than_bolts() -> None:
    assert the_one(with_row(conforming(), 2, counted=counted(12))) == (
        "bolts_present",
        "row 2: 12 plates, more than there are bolts",
        Verdict.MEASURE_AGAIN,
    )


def test_an_extra_bolt_carries_an_extra_plate() -> None:
    bundle = with_row(conforming(), 2, counted=counted(10))
    extra = BoltSeen(s_m=Decimal("0.62"), method="tape", state="present", plate="seated")

    assert contradicted(with_bolts(bundle, 2, extra)) == []


def test_all_plates_counted_where_a_bolt_is_missing() -> None:
    bundle = with_row(with_bolts(conforming(), 2, missing(4)), 2, counted=counted(9))

    assert the_one(bundle)[1] == "row 2: 9 plates, more than there are bolts"


def test_more_plates_than_bolts_in_an_old_row() -> None:
    rows = conforming().round.old_rows
    more = rows[0].model_copy(update={"confirmed": counted(20)})

    assert the_one(with_round(conforming(), old_rows=(more, rows[1])))[:2] == (
        "old_rows",
        "the old row before it: 20 plates, more than there are bolts",
    )
