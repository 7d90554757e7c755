"""Rock that no placed sheet covers."""

from decimal import Decimal

from fieldapp.assess import assess
from fieldapp.assess.seen import seen_in
from schemas.bodies.round import BoltSeen, ProfileSeen
from schemas.findings import Verdict
from tests.unit.assess.conforming import (
    conforming,
    missing,
    with_bolts,
    with_limit,
    with_round,
    with_row,
)
from tests.unit.assess.meshed import WHOLE, found, meshed, sheet, with_old


def test_a_round_without_placed_sheets_is_judged_by_its_taped_laps_and_reach_alone() -> None:
    assert "mesh_cover" not in {it.check for it in assess(conforming()).findings}


def test_a_strip_over_all_of_it_leaves_nothing_bare() -> None:
    cover = found(meshed(WHOLE), "mesh_cover")

    assert (cover.verdict, cover.measured, cover.unit) == (Verdict.ACCEPT, "0.00", "m²")


def test_a_gap_between_two_sheets_is_bare_rock_at_its_place() -> None:
    """0.3 m of the 9.92 m line stay bare, and the row inbye of them is not complete."""
    sheets = (sheet(1, ("-0.15", "1.20"), laps=(with_old(),)), sheet(2, ("1.50", "2.90")))
    cover = found(meshed(*sheets), "mesh_cover")

    assert cover.verdict is Verdict.REWORK
    assert cover.measured == "2.97"
    (place,) = cover.places
    assert place.words.startswith("2.97 m² bare at 1387.")
    assert place.row == 2
    assert cover.fix == (f"cover with mesh and plate it: {place.words}",)
    assert assess(meshed(*sheets)).rows_complete_to_m == Decimal("1387.30"), "row 1 alone"


def test_a_bare_place_no_wider_than_an_opening_is_none() -> None:
    narrow = (sheet(1, ("-0.15", "1.20")), sheet(2, ("1.30", "2.90")))
    wider = (sheet(1, ("-0.15", "1.20")), sheet(2, ("1.31", "2.90")))

    assert found(meshed(*narrow), "mesh_cover").measured == "0.00"
    assert found(meshed(*wider), "mesh_cover").measured == "1.09"


def test_a_sheet_that_only_stands_as_standard_was_not_looked_at() -> None:
    cover = found(meshed(sheet(1, ("-0.15", "2.85"), method="assumed")), "mesh_cover")

    assert cover.verdict is Verdict.NOT_LOOKED_AT
    assert cover.places[0].words == "sheet 1: as standard, assumed"


def test_its_lap_being_counted_is_a_look_at_a_sheet() -> None:
    counted = sheet(1, ("-0.15", "2.85"), method="assumed", laps=(with_old(),))

    assert found(meshed(counted), "mesh_cover").verdict is Verdict.ACCEPT


def test_mesh_far_beyond_its_outermost_plates_does_not_count() -> None:
    """The lowest bolts of the right wall are gone: mesh there hangs more than 0.3 m free."""
    bundle = meshed(WHOLE)
    for row in (1, 2, 3):
        bundle = with_bolts(bundle, row, missing(9))
    old = tuple(row.model_copy(update={"bolts": (missing(9),)}) for row in bundle.round.old_rows)

    bare = found(with_round(bundle, old_rows=old), "mesh_cover")
    # 2.7 m of drive, and a spacing of 1.240 m less the 0.3 m that may stand out
    assert Decimal(bare.measured or 0) == Decimal("2.54")


def test_one_lowest_bolt_missing_between_two_others_leaves_the_mesh_held() -> None:
    assert found(with_bolts(meshed(WHOLE), 2, missing(9)), "mesh_cover").measured == "0.00"


def test_a_sheet_without_a_plate_covers_nothing() -> None:
    """A strip of 0.4 m between two rows, its bolts seen nowhere near."""
    around = (sheet(1, ("-0.15", "1.10")), sheet(2, ("1.60", "2.90")))
    loose = sheet(3, ("1.05", "1.65"), ("-0.50", "0.50"))

    assert (
        found(meshed(*around, loose), "mesh_cover").measured
        == found(meshed(*around), "mesh_cover").measured
    )


def test_staggered_rows_hold_mesh_as_far_as_a_whole_pattern_does() -> None:
    strips = (
        sheet(1, ("-0.15", "2.55"), ("-4.5", "4.5"), laps=(with_old(4),)),
        sheet(2, ("2.25", "4.95"), ("-4.5", "4.5")),
    )

    assert found(meshed(*strips, code="O2"), "mesh_cover").measured == "0.00"


PACED = dict.fromkeys(("from_method", "to_method", "left_method", "right_method"), "paced")


def test_an_edge_that_was_paced_may_leave_rock_bare_and_is_measured_again() -> None:
    """Sheets that overlap by 0.1 m at 0.20 m of doubt each: perhaps bare, perhaps not."""
    sure = (sheet(1, ("-0.15", "1.40")), sheet(2, ("1.30", "2.90")))
    paced = (
        sheet(1, ("-0.15", "1.40"), method="paced"),
        sheet(2, ("1.30", "2.90"), method="paced"),
    )

    assert found(meshed(*sure), "mesh_cover").verdict is Verdict.ACCEPT
    doubtful = found(meshed(*paced), "mesh_cover")
    assert doubtful.verdict is Verdict.MEASURE_AGAIN
    assert doubtful.uncertainty is not None


def test_bolts_nobody_looked_at_hold_no_mesh_for_sure() -> None:
    cover = found(with_row(meshed(WHOLE), 2, counted=None), "mesh_cover")

    assert cover.verdict is Verdict.NOT_LOOKED_AT


def test_a_standard_that_bears_a_bare_square_metre() -> None:
    bundle = with_limit(
        meshed(sheet(1, ("-0.15", "2.60"), laps=(with_old(),))),
        "mesh_cover",
        at_most_m2=Decimal("1.00"),
        at_most_openings=0,
        guard_factor=Decimal(0),
    )

    assert found(bundle, "mesh_cover").verdict is Verdict.ACCEPT
    assert found(bundle, "mesh_cover").measured == "0.99"


def test_an_extra_bolt_beyond_the_last_row_holds_mesh_there() -> None:
    extra = BoltSeen(s_m=Decimal("0.60"), method="tape", state="present", plate="seated")

    assert found(with_bolts(meshed(WHOLE), 3, extra), "mesh_cover").verdict is Verdict.ACCEPT


def test_a_sheet_down_to_the_line_of_the_other_rows_leaves_more_bare_at_a_wider_one() -> None:
    """Row 3 is broken 7 m wide: its line runs farther down than the strip that fits the rest."""
    wide = ProfileSeen(width_m=Decimal("7.0"), rise_m=Decimal("2.6"), method="laser")
    usual, wider = meshed(WHOLE), with_row(meshed(WHOLE), 3, profile=wide)
    over_all = with_row(meshed(sheet(1, ("-0.15", "2.85"), ("-7.0", "7.0"))), 3, profile=wide)

    assert found(usual, "mesh_cover").measured == "0.00"
    bare = Decimal(found(wider, "mesh_cover").measured or 0)
    line = seen_in(wider).rows[2].line
    # From row 2, where the strip covers all, to row 3 a triangle on each side.
    assert 0 < bare <= Decimal(repr((line.length_m - 10.2) / 2 * 0.9)) + Decimal("0.01")
    assert found(over_all, "mesh_cover").measured == "0.00"


def test_rows_measured_as_designed_leave_as_much_bare_as_before() -> None:
    same = ProfileSeen(width_m=Decimal("5.0"), rise_m=Decimal("2.0"), method="laser")
    sheets = (sheet(1, ("-0.15", "1.20"), laps=(with_old(),)), sheet(2, ("1.50", "2.90")))

    as_before = found(meshed(*sheets), "mesh_cover")
    assert found(with_row(meshed(*sheets), 2, profile=same), "mesh_cover") == as_before
