"""Laps, holes and bags that are not in the round."""

from decimal import Decimal
from typing import Any

import pytest

from schemas.bodies.round import BagSeen, HoleSeen, LapSeen
from schemas.bundle import Bundle
from schemas.findings import Verdict
from tests.unit.assess.conforming import conforming, length, with_round
from tests.unit.assess.contradictions.contradicted import contradicted, the_one


def with_mesh(**changes: Any) -> Bundle:
    bundle = conforming()
    return with_round(bundle, mesh=bundle.round.mesh.model_copy(update=changes))


def test_a_lap_of_a_row_that_is_not_there() -> None:
    lap = LapSeen(number=9, openings=4, held=True)

    assert the_one(with_round(conforming(), laps=(*conforming().round.laps, lap)))[:2] == (
        "mesh_lap",
        "lap 9, in a round of 3 rows",
    )


def test_a_lap_written_down_twice() -> None:
    laps = conforming().round.laps
    short = laps[0].model_copy(update={"openings": 0})

    assert the_one(with_round(conforming(), laps=(short, *laps)))[1] == (
        "lap 1 is written down 2 times"
    )


def hole(**changes: Any) -> HoleSeen:
    """One opening in the crown, 4.9 m above the floor: within its limit."""
    at = {"chainage_m": "1387.0", "s_m": "0.0", "openings": 1, "above_floor_m": "4.9"}
    return HoleSeen.model_validate(at | changes)


def test_a_hole_within_its_limit_where_there_is_rock_agrees() -> None:
    assert contradicted(with_mesh(no_holes=False, holes=(hole(),))) == []


@pytest.mark.parametrize(
    "changes",
    [{"chainage_m": "1500.0"}, {"chainage_m": "13.0"}, {"s_m": "-40"}, {"above_floor_m": "0.2"}],
    ids=str,
)
def test_a_hole_outside_the_round(changes: dict[str, str]) -> None:
    found = with_mesh(no_holes=False, holes=(hole(**changes),))

    assert the_one(found)[0] == "mesh_holes"


def test_a_bag_outside_the_round() -> None:
    bag = BagSeen(chainage_m=Decimal("1500.0"), s_m=Decimal(0), depth_mm=Decimal(50))

    assert the_one(with_mesh(no_bagging=False, bags=(bag,)))[0] == "mesh_bagging"


def test_no_hole_and_one_marked() -> None:
    assert the_one(with_mesh(no_holes=True, holes=(hole(),)))[1] == "no hole, and 1 marked"


def test_no_bagging_and_one_marked() -> None:
    bag = BagSeen(chainage_m=Decimal("1387.0"), s_m=Decimal(0), depth_mm=Decimal(50))

    assert the_one(with_mesh(no_bagging=True, bags=(bag,)))[1] == "no bagging, and 1 marked"


def test_mesh_held_by_plates_beyond_the_last_row() -> None:
    """Last row to the face 0.80 m, mesh to the face 0.10 m; 0.30 m beyond plates still counts."""
    assert the_one(with_mesh(to_face=length("0.10", "staff"))) == (
        "mesh_reach",
        "0.70 m beyond the last row, and no plate there: mesh to the face",
        Verdict.MEASURE_AGAIN,
    )
