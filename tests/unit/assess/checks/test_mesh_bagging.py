from decimal import Decimal

import pytest

from schemas.bodies.round import BagSeen, MeshSeen
from schemas.findings import Verdict
from tests.unit.assess.conforming import conforming, finding, with_round


@pytest.mark.parametrize(
    ("depth", "mass", "verdict"),
    [
        ("300", None, Verdict.ACCEPT),
        ("301", None, Verdict.NO_ENTRY),
        ("100", "0.5", Verdict.ACCEPT),
        ("100", "0.6", Verdict.NO_ENTRY),
    ],
)
def test_a_bag_too_deep_or_too_heavy(depth: str, mass: str | None, verdict: Verdict) -> None:
    bag = BagSeen(
        chainage_m=Decimal(1387),
        s_m=Decimal(0),
        depth_mm=Decimal(depth),
        mass_t=None if mass is None else Decimal(mass),
    )
    mesh = conforming().round.mesh.model_copy(update={"no_bagging": False, "bags": (bag,)})

    assert finding(with_round(conforming(), mesh=mesh), "mesh_bagging").verdict is verdict


def test_nobody_looked_for_bags() -> None:
    found = finding(with_round(conforming(), mesh=MeshSeen()), "mesh_bagging")

    assert (found.verdict, found.holds) == (Verdict.NOT_LOOKED_AT, Verdict.NO_ENTRY)


def test_bags_that_nobody_placed_are_not_looked_at() -> None:
    mesh = conforming().round.mesh.model_copy(update={"no_bagging": False})
    found = finding(with_round(conforming(), mesh=mesh), "mesh_bagging")

    assert found.verdict is Verdict.NOT_LOOKED_AT
