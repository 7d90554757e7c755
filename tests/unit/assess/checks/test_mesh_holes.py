from decimal import Decimal

from schemas.bodies.round import HoleSeen, MeshSeen
from schemas.findings import Finding, Verdict
from tests.unit.assess.conforming import conforming, finding, with_round

SHOULDER, WALL = "-2.9", "-4.7"
"""Where the rock of this drive is 3.5 m above the floor, and 1.8 m."""


def hole(openings: int, above_floor_m: str) -> Finding:
    seen = HoleSeen(
        chainage_m=Decimal("1387.0"),
        s_m=Decimal(SHOULDER if above_floor_m == "3.5" else WALL),
        openings=openings,
        above_floor_m=Decimal(above_floor_m),
    )
    bundle = conforming()
    mesh = bundle.round.mesh.model_copy(update={"no_holes": False, "holes": (seen,)})
    return finding(with_round(bundle, mesh=mesh), "mesh_holes")


def test_a_hole_larger_than_one_opening_above_people_is_patched_first() -> None:
    found = hole(2, "3.5")

    assert found.verdict is Verdict.REWORK
    assert found.fix[0] == (
        "nobody on foot beneath until patched: "
        "hole of 2 openings at 1387.0 m, 2.9 m left of the crown"
    )


def test_a_hole_of_one_opening_or_low_on_the_wall_is_named_and_accepted() -> None:
    assert hole(1, "3.5").verdict is Verdict.ACCEPT
    assert hole(4, "1.8").verdict is Verdict.ACCEPT
    assert "1 hole within that" in hole(4, "1.8").how


def test_nobody_looked_for_holes() -> None:
    found = finding(with_round(conforming(), mesh=MeshSeen()), "mesh_holes")

    assert found.verdict is Verdict.NOT_LOOKED_AT


def test_holes_that_nobody_placed_are_not_looked_at() -> None:
    """Somebody answered that there are holes, and marked none of them."""
    mesh = conforming().round.mesh.model_copy(update={"no_holes": False})

    found = finding(with_round(conforming(), mesh=mesh), "mesh_holes")

    assert found.verdict is Verdict.NOT_LOOKED_AT
