"""What holds a lap, worked out from plates whose places are known."""

from schemas.bodies.round import LapSeen, SheetLap
from schemas.bundle import Bundle
from schemas.findings import Verdict
from tests.unit.assess.conforming import (
    length,
    loose,
    missing,
    with_bolts,
    with_round,
    with_row,
)
from tests.unit.assess.meshed import found, meshed, sheet

OLD = SheetLap(with_sheet=0, openings=3, held=True)


def lapped(begins: str, ends: str = "2.10", **changes: object) -> Bundle:
    """Two strips that lap each other; row 2 stands 1.80 m from the joint."""
    return with_round(
        meshed(sheet(1, ("-0.15", ends), laps=(OLD,)), sheet(2, (begins, "2.85"))),
        laps=(),
        **changes,
    )


def test_a_row_well_inside_a_lap_holds_it() -> None:
    held = found(lapped("1.50"), "lap_held")

    assert held.verdict is Verdict.ACCEPT


def test_a_lap_between_two_rows_is_held_by_none() -> None:
    """From 1.15 to 1.45 m: rows stand at 0.90 and 1.80 m."""
    held = found(lapped("1.15", "1.45"), "lap_held")

    assert held.verdict is Verdict.REWORK
    assert held.places[0].words == "sheet 1 and sheet 2, lap 2, no row of bolts meets it"


def test_a_row_at_the_edge_of_a_lap_is_looked_at() -> None:
    """Less than 100 mm inside: nobody can say from the map alone."""
    held = found(lapped("1.75"), "lap_held")

    assert held.verdict is Verdict.NOT_LOOKED_AT
    assert [place.words for place in held.places] == ["lap 2"]


def test_a_plate_missing_in_the_row_leaves_the_lap_to_be_looked_at() -> None:
    for bolt in (missing(4), loose(4)):
        bundle = with_bolts(lapped("1.50"), 2, bolt)

        assert found(bundle, "lap_held").verdict is Verdict.NOT_LOOKED_AT


def test_a_row_whose_place_nobody_read_holds_no_lap_for_sure() -> None:
    bundle = with_row(lapped("1.50"), 1, ahead_of_row_before=None)

    assert found(bundle, "lap_held").verdict is Verdict.NOT_LOOKED_AT


def test_rows_that_were_paced_are_too_unsure_to_hold_a_lap() -> None:
    bundle = with_row(lapped("1.50"), 2, ahead_of_row_before=length("0.90", "paced"))

    assert found(bundle, "lap_held").verdict is Verdict.NOT_LOOKED_AT


def test_somebody_who_saw_no_plate_is_believed_over_the_map() -> None:
    seen = LapSeen(number=2, openings=5, held=False, not_held_where="back")
    held = found(lapped("1.50").model_copy(), "lap_held")
    not_held = found(with_round(lapped("1.50"), laps=(seen,)), "lap_held")

    assert held.verdict is Verdict.ACCEPT
    assert not_held.verdict is Verdict.REWORK
