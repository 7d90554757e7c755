"""Broken rock that a bay of mesh may hold, against what a panel of it carried."""

from decimal import Decimal

import pytest

from fieldapp.assess.mesh.bays import bays
from fieldapp.assess.seen import seen_in
from schemas.bodies.round import BagSeen, ProfileSeen, SheetSeen, SpacingSeen
from schemas.bundle import Bundle
from schemas.findings import Verdict
from tests.unit.assess.conforming import (
    STANDARD,
    conforming,
    counted,
    finding,
    length,
    loose,
    missing,
    with_bolts,
    with_round,
    with_row,
)


def with_panel(bundle: Bundle, **changes: object) -> Bundle:
    classes = tuple(
        known.model_copy(update={"mesh": known.mesh.model_copy(update=changes)})
        if known.mesh is not None and known.code == bundle.round.support_class
        else known
        for known in bundle.standard.classes
    )
    standard = bundle.standard.model_copy(update={"classes": classes})
    return bundle.model_copy(update={"standard": standard})


def test_a_bay_of_the_pattern_holds_less_than_a_panel_carried() -> None:
    """1.24 × 0.90 m of 0.4 m at 27 kN/m³ is 12.1 kN, a panel 40 kN."""
    found = finding(conforming(), "mesh_panel")

    assert (found.verdict, found.measured, found.limit) == (Verdict.ACCEPT, "12.1", "at most 40")
    assert "pulled by a plate of 300 × 300 mm" in found.how
    assert found.because == "S-2, 6.8"
    assert "(common practice, no source)" in found.how


def test_all_panels_of_the_demo_s_standard_were_pulled_by_one_rig() -> None:
    stated = {
        (known.mesh.panel_rig, known.limits.mesh_panel and known.limits.mesh_panel.rig)
        for known in STANDARD.classes
        if known.mesh is not None and known.mesh.panel_kn is not None
    }

    assert stated == {("pulled by a plate of 300 × 300 mm", "pulled by a plate of 300 × 300 mm")}


def test_mesh_round_a_missing_plate_is_one_bay_two_spacings_wide_and_two_rows_long() -> None:
    """2.48 × 1.80 m of 0.4 m at 27 kN/m³ is 48.2 kN: four bays of the pattern in one."""
    found = finding(with_bolts(conforming(), 2, missing(4)), "mesh_panel")

    assert (found.verdict, found.measured) == (Verdict.REWORK, "48.2")
    (place,) = found.places
    assert place.words.startswith("bay of 2.48 m by 1.80 m, row 1 to row 3, 1.2 m left")
    assert place.row == 2
    assert found.fix == ("add a bolt, row 2, 1.2 m left of the crown",)
    assert found.how.startswith("bay between the plates that are there × 0.4 m of rock")


def test_a_loose_plate_holds_no_mesh() -> None:
    found = finding(with_bolts(conforming(), 2, loose(4)), "mesh_panel")

    assert (found.measured, found.fix[0][:14]) == ("48.2", "seat the plate")


def test_two_missing_side_by_side_leave_a_bay_three_spacings_wide() -> None:
    """3.72 × 1.80 m is 72.3 kN."""
    found = finding(with_bolts(conforming(), 2, missing(4), missing(5)), "mesh_panel")

    assert found.measured == "72.3"
    assert found.places[0].words.startswith("bay of 3.72 m by 1.80 m, row 1 to row 3")
    assert found.fix == ("add a bolt, row 2, 1.2 m left of the crown",), "and its neighbour"


def test_two_missing_one_behind_the_other_leave_a_bay_three_rows_long() -> None:
    """2.48 × 2.70 m is 72.3 kN."""
    both = with_bolts(with_bolts(conforming(rows=4), 2, missing(4)), 3, missing(4))

    assert finding(both, "mesh_panel").measured == "72.3"


def test_two_missing_diagonally_leave_one_bay_of_seven_of_the_pattern() -> None:
    """7 × 1.24 × 0.90 m² of 10.8 kN/m² is 84.3 kN."""
    both = with_bolts(with_bolts(conforming(rows=4), 2, missing(4)), 3, missing(5))

    assert finding(both, "mesh_panel").measured == "84.3"


def test_two_missing_with_a_plate_between_them_leave_two_bays() -> None:
    apart = finding(with_bolts(conforming(), 2, missing(4), missing(6)), "mesh_panel")

    assert (apart.measured, len(apart.places)) == ("48.2", 2)


def test_a_bay_reaches_across_the_joint_to_the_rows_before() -> None:
    old = conforming().round.old_rows
    gone = old[1].model_copy(
        update={
            "bolts": (missing(4),),
            "confirmed": counted(8),
        }
    )
    at_joint = finding(with_round(conforming(), old_rows=(old[0], gone)), "mesh_panel")

    assert at_joint.measured == "48.2"
    assert at_joint.places[0].words.startswith("bay of 2.48 m by 1.80 m, the old row")
    assert at_joint.places[0].row == 0


def test_a_bay_at_the_last_row_ends_there_and_one_at_the_lowest_bolts_too() -> None:
    """2 × 1.24 × 0.90 m is 24.1 kN; at the last row's lowest bolt 12.1 kN are left of it."""
    assert finding(with_bolts(conforming(), 3, missing(4)), "mesh_panel").measured == "24.1"
    assert finding(with_bolts(conforming(), 2, missing(1)), "mesh_panel").measured == "24.1"
    assert finding(with_bolts(conforming(), 3, missing(1)), "mesh_panel").measured == "12.1"


def test_a_missing_plate_of_a_staggered_row_has_six_plates_round_it() -> None:
    """Two spacings wide in its row and one in those beside: three bays of the pattern."""
    intact = next(bays(seen_in(conforming("O2", 4))))
    seen = seen_in(with_bolts(conforming("O2", 4), 3, missing(4)))

    assert max(it.area_m2 for it in bays(seen)) == pytest.approx(3 * intact.area_m2, rel=0.02)


def test_a_row_without_a_plate_leaves_one_bay_from_wall_to_wall() -> None:
    none = with_bolts(conforming(), 2, *(missing(n) for n in range(1, 10)))

    assert max(it.area_m2 for it in bays(seen_in(none))) == pytest.approx(9.92 * 1.8, rel=0.01)


def test_a_step_between_two_profiles_makes_a_bay_as_long_as_its_rock() -> None:
    wider = ProfileSeen(width_m=Decimal("5.80"), rise_m=Decimal("2.00"), method="tape")
    stepped = seen_in(with_row(conforming(), 3, profile=wider))
    last = [it for it in bays(stepped) if it.inbye.number == 3]

    assert min(it.along_m for it in last) > 0.9


def test_a_row_farther_ahead_makes_its_bays_larger() -> None:
    far = with_row(conforming(), 2, ahead_of_row_before=length("1.80"))

    assert finding(far, "mesh_panel").measured == "24.1"


def test_a_taped_spacing_counts_before_the_places_of_the_pattern() -> None:
    taped = (SpacingSeen(from_position=4, to_position=5, reading=length("1.40")),)
    wide = with_row(conforming(), 2, spacings=taped)

    assert finding(wide, "mesh_panel").measured == "13.6"


def test_a_bag_that_is_heavier_than_the_panel_is_a_breach() -> None:
    """4.2 t weigh 41.2 kN."""
    bag = BagSeen(
        chainage_m=Decimal("1387.0"), s_m=Decimal(0), depth_mm=Decimal(200), mass_t=Decimal("4.2")
    )
    mesh = conforming().round.mesh.model_copy(update={"no_bagging": False, "bags": (bag,)})

    assert finding(with_round(conforming(), mesh=mesh), "mesh_panel").measured == "41.2"


def test_figures_of_two_rigs_are_never_compared() -> None:
    found = finding(with_panel(conforming(), panel_rig="dropped on, 1 t"), "mesh_panel")

    assert (found.verdict, found.measured) == (Verdict.NOT_LOOKED_AT, None)


def test_mesh_of_which_no_panel_load_is_stated_can_t_be_compared() -> None:
    assert finding(with_panel(conforming(), panel_kn=None), "mesh_panel").measured is None


def test_a_strong_panel_lets_no_gap_between_the_bolts_stand() -> None:
    strong = with_panel(with_bolts(conforming(), 2, missing(4)), panel_kn=Decimal(5_000))

    assert finding(strong, "mesh_panel").verdict is Verdict.ACCEPT
    assert finding(strong, "largest_gap").verdict is Verdict.REWORK
    assert finding(strong, "bolts_present").verdict is Verdict.REWORK


def test_a_round_without_a_single_bay_is_not_looked_at() -> None:
    alone = with_round(conforming(rows=1), old_rows=())

    assert finding(alone, "mesh_panel").verdict is Verdict.NOT_LOOKED_AT


def test_a_plate_beside_every_placed_sheet_holds_no_mesh() -> None:
    """Two sheets whose edges leave position 5 between them: its hole is as one without a plate."""
    whole = (_sheet(1, "-5.2", "-0.4"), _sheet(2, "0.4", "5.2"))
    parted = finding(with_round(conforming(), sheets=whole), "mesh_panel")
    joined = finding(
        with_round(conforming(), sheets=(_sheet(1, "-5.2", "0.2"), _sheet(2, "-0.1", "5.2"))),
        "mesh_panel",
    )

    assert (parted.verdict, joined.verdict) == (Verdict.REWORK, Verdict.ACCEPT)
    assert joined.measured == "12.1"


def test_bolts_below_the_edge_of_the_mesh_make_no_bay() -> None:
    """Past the outermost plate on mesh it is the cover's matter."""
    short = with_round(conforming(), sheets=(_sheet(1, "-4.0", "4.0"),))

    assert finding(short, "mesh_panel").measured == "12.1"


def _sheet(number: int, left: str, right: str) -> SheetSeen:
    return SheetSeen(
        number=number,
        from_m=Decimal("1386.2"),
        to_m=Decimal("1389.8"),
        left_s_m=Decimal(left),
        right_s_m=Decimal(right),
        from_method="tape",
        to_method="tape",
        left_method="tape",
        right_method="tape",
    )
