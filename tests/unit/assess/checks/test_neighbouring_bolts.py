from schemas.findings import Verdict
from tests.unit.assess.conforming import (
    conforming,
    counted,
    finding,
    loose,
    missing,
    with_bolts,
    with_round,
    with_row,
)


def test_one_bolt_missing_alone_has_no_neighbour() -> None:
    found = finding(with_bolts(conforming(), 2, missing(4)), "neighbouring_bolts")

    assert found.verdict is Verdict.ACCEPT


def test_two_in_a_row_are_no_entry() -> None:
    found = finding(with_bolts(conforming(), 2, missing(4), missing(5)), "neighbouring_bolts")

    assert found.verdict is Verdict.NO_ENTRY


def test_two_diagonal_neighbours_are_no_entry_whatever_the_circle_says() -> None:
    bundle = with_bolts(with_bolts(conforming(), 1, missing(4)), 2, missing(5))

    assert finding(bundle, "neighbouring_bolts").verdict is Verdict.NO_ENTRY
    assert finding(bundle, "largest_gap").verdict is Verdict.REWORK


def test_neighbours_across_the_joint() -> None:
    bundle = with_bolts(conforming(), 1, missing(4))
    old = bundle.round.old_rows
    last = old[1].model_copy(update={"bolts": (missing(4),), "confirmed": counted(8)})

    found = finding(with_round(bundle, old_rows=(old[0], last)), "neighbouring_bolts")

    assert found.verdict is Verdict.NO_ENTRY


def test_a_loose_plate_beside_a_missing_bolt_still_counts() -> None:
    bundle = with_bolts(conforming(), 2, missing(4), loose(5))

    assert finding(bundle, "neighbouring_bolts").verdict is Verdict.ACCEPT


def test_where_a_bolt_is_missing_without_a_place_nobody_knows_its_neighbours() -> None:
    found = finding(with_row(conforming(), 2, counted=counted(8)), "neighbouring_bolts")

    assert (found.verdict, found.holds) == (Verdict.NOT_LOOKED_AT, Verdict.NO_ENTRY)
