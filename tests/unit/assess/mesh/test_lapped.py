"""Which placed sheets are neighbours, and how they lap."""

from decimal import Decimal

import pytest

from fieldapp.assess.mesh.lapped import Lap, laps_of
from fieldapp.assess.seen import seen_in
from schemas.bodies.round import SheetLap, SheetSeen
from schemas.findings import Verdict
from tests.unit.assess.conforming import conforming, with_round
from tests.unit.assess.meshed import WHOLE, found, meshed, sheet, with_old

FIRST = sheet(1, ("-0.15", "1.35"), laps=(with_old(),))


def laps(*sheets: SheetSeen) -> list[Lap]:
    return list(laps_of(seen_in(meshed(*sheets))))


def told(*sheets: SheetSeen) -> list[tuple[str, Decimal | None]]:
    return [(lap.words, lap.width_m) for lap in laps(*sheets)]


def test_two_strips_along_the_drive_lap_across_it() -> None:
    assert told(FIRST, sheet(2, ("1.05", "2.85"))) == [
        ("sheet 1 and the old mesh, lap 1", None),
        ("sheet 1 and sheet 2, lap 2", Decimal("0.30")),
    ]


def test_sheets_side_by_side_lap_along_the_drive() -> None:
    left, right = sheet(1, ("0", "3"), ("-5", "0.2")), sheet(2, ("0", "3"), ("-0.1", "5"))
    (lap,) = (it for it in laps(left, right) if it.first is not None)

    assert (lap.across, lap.number, lap.width_m) == (False, None, Decimal("0.3"))


def test_the_corner_where_four_sheets_meet_is_no_lap_of_its_own() -> None:
    four = (
        sheet(1, ("0", "3"), ("-2.4", "0.15")),
        sheet(2, ("0", "3"), ("-0.15", "2.4")),
        sheet(3, ("2.7", "5.7"), ("-2.4", "0.15")),
        sheet(4, ("2.7", "5.7"), ("-0.15", "2.4")),
    )

    assert sorted(words for words, width in told(*four) if width is not None) == [
        "sheet 1 and sheet 2",
        "sheet 1 and sheet 3, lap 2",
        "sheet 2 and sheet 4, lap 2",
        "sheet 3 and sheet 4",
    ]


def test_sheets_laid_like_bricks_lap_two_of_the_course_before() -> None:
    bricks = (
        sheet(1, ("0", "3"), ("-2.4", "0.15")),
        sheet(2, ("0", "3"), ("-0.15", "2.4")),
        sheet(3, ("2.7", "5.7"), ("-1.2", "1.2")),
    )

    assert ("sheet 1 and sheet 3, lap 2", Decimal("0.3")) in told(*bricks)
    assert ("sheet 2 and sheet 3, lap 2", Decimal("0.3")) in told(*bricks)


@pytest.mark.parametrize("begins", ["1.35", "1.60"], ids=["only touching", "bare between"])
def test_neighbours_that_do_not_lap_have_a_lap_of_nothing(begins: str) -> None:
    assert told(FIRST, sheet(2, (begins, "2.85")))[1] == (
        "sheet 1 and sheet 2, lap 2",
        Decimal(0),
    )


def test_a_strip_over_the_bare_rock_laps_both() -> None:
    mended = (FIRST, sheet(2, ("1.60", "2.85")), sheet(3, ("1.05", "1.95")))

    assert [width for _, width in told(*mended)][1:] == [Decimal("0.30"), Decimal("0.35")]


def test_one_gap_in_a_long_row_of_sheets_is_told_once() -> None:
    row = [sheet(n, (f"{n * 0.7:.2f}", f"{n * 0.7 + 1:.2f}")) for n in (1, 2, 4, 5)]

    assert [lap.words for lap in laps(*row) if lap.first and lap.width_m == 0] == [
        "sheet 2 and sheet 4, lap 3"
    ]


def test_the_sheets_of_the_round_before_are_lapped_by_the_first() -> None:
    before = conforming("D1", number=411, sheets=(sheet(9, ("-2.85", "0.10")),)).round
    bundle = meshed(FIRST).model_copy(update={"previous_round": before})

    (lap,) = laps_of(seen_in(bundle))
    assert (lap.words, lap.width_m) == (
        "sheet 9 of the round before and sheet 1, lap 1",
        Decimal("0.25"),
    )


# --- what the standard says of them ---------------------------------------------------------


def test_a_lap_by_its_edges_short_by_one_opening_is_rework() -> None:
    bundle = with_round(meshed(FIRST, sheet(2, ("1.15", "2.85"))), laps=())
    lap = found(bundle, "mesh_lap")

    assert (lap.verdict, lap.measured) == (Verdict.REWORK, "200")
    assert lap.places[0].words == "sheet 1 and sheet 2, lap 2"
    assert lap.fix == ("cover sheet 1 and sheet 2, lap 2 with a strip of mesh and plate it",)


def test_a_lap_of_sheets_as_standard_is_not_looked_at_until_it_is_counted() -> None:
    one = sheet(1, ("-0.15", "1.35"), method="assumed", laps=(with_old(),))
    two = sheet(2, ("1.05", "2.85"), method="assumed")
    counted = two.model_copy(update={"laps": (SheetLap(with_sheet=1, openings=3, held=True),)})

    assumed = found(with_round(meshed(one, two), laps=()), "mesh_lap")
    assert assumed.verdict is Verdict.NOT_LOOKED_AT
    assert [place.words for place in assumed.places] == ["lap 2"]
    assert found(with_round(meshed(one, counted), laps=()), "mesh_lap").verdict is Verdict.ACCEPT


def test_a_lap_between_sheets_side_by_side_is_asked_for_as_well() -> None:
    left = sheet(1, ("-0.15", "2.85"), ("-5.1", "0.2"), method="assumed", laps=(with_old(),))
    right = sheet(2, ("-0.15", "2.85"), ("-0.1", "5.1"), method="assumed", laps=(with_old(),))

    lap = found(meshed(left, right), "mesh_lap")
    assert lap.verdict is Verdict.NOT_LOOKED_AT
    assert [place.words for place in lap.places] == ["sheet 1 and sheet 2"]


def test_sheets_with_bare_rock_between_them_have_no_lap_whatever_was_counted() -> None:
    apart = (FIRST, sheet(2, ("1.60", "2.85")))

    assert found(meshed(*apart), "mesh_lap").measured == "0"


def test_the_first_sheet_far_from_the_joint_laps_no_old_mesh() -> None:
    """Old mesh counts no farther than 0.3 m past the last old row."""
    late = sheet(1, ("0.35", "2.85"), laps=())

    assert found(with_round(meshed(late), laps=()), "mesh_lap").measured == "0"
    assert found(with_round(meshed(WHOLE), laps=()), "mesh_lap").verdict is Verdict.ACCEPT
