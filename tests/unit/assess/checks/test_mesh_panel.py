"""Broken rock that a bay of mesh may hold, against what a panel of it carried."""

from decimal import Decimal

from schemas.bodies.round import BagSeen, SpacingSeen
from schemas.bundle import Bundle
from schemas.findings import Verdict
from tests.unit.assess.conforming import (
    STANDARD,
    conforming,
    finding,
    length,
    missing,
    with_bolts,
    with_limit,
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


def test_a_missing_plate_doubles_its_bay() -> None:
    bundle = with_limit(with_bolts(conforming(), 2, missing(4)), "mesh_panel")
    found = finding(bundle, "mesh_panel")

    assert found.measured == "24.1"


def test_a_bay_that_may_hold_more_than_the_panel_is_a_breach_at_its_place() -> None:
    bundle = with_limit(
        with_bolts(conforming(), 2, missing(4)), "mesh_panel", loosened_m=Decimal("0.8")
    )
    found = finding(bundle, "mesh_panel")

    assert (found.verdict, found.measured) == (Verdict.REWORK, "48.2")
    assert found.places[0].words.startswith("bay of 2.48 × 0.90 m between row 1 and row 2")
    assert found.fix[0].startswith("add a plated bolt in the bay of 2.48 × 0.90 m")


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
    bundle = conforming(rows=1)
    every = tuple(missing(n) for n in range(1, 10))

    assert finding(with_bolts(bundle, 1, *every), "mesh_panel").verdict is Verdict.NOT_LOOKED_AT
