"""How long, how much mesh, and what it cost: from what was stated, and nothing else."""

from datetime import UTC, datetime, timedelta
from decimal import Decimal

import pytest

from fieldapp.assess.standard_check import refusals, warnings
from fieldapp.assess.take_off import (
    compared,
    cost_of_round,
    material_cost,
    meshed_m2,
    minutes_of,
    take_off,
    times_contradict,
    wanted_for,
)
from schemas.bodies.work_seen import BoltsUsed, Used, WorkSeen
from tests.standards import changed, put_in

STANDARD = changed(lambda document: document)
DECLINE, _, WIDE = STANDARD.classes
BEGAN = datetime(2031, 5, 6, 2, 0, tzinfo=UTC)
TAKEN = take_off(DECLINE, wanted_for(DECLINE, Decimal("3.6")))
USED = Used(
    bolts=(BoltsUsed(bolt_type="RB24", bolts=38),), plates=37, mesh_pieces=10, capsules=114
)


def work(**said: object) -> WorkSeen:
    known = {
        "started_at": BEGAN,
        "finished_at": BEGAN + timedelta(minutes=90),
        "crew_size": 3,
        "used": USED,
    }
    return WorkSeen.model_validate({**known, **said})


def test_a_round_takes_from_start_to_finish_and_never_less_than_nothing() -> None:
    assert minutes_of(work()) == 90
    assert minutes_of(work(finished_at=None)) is None
    assert minutes_of(work(finished_at=BEGAN - timedelta(minutes=5))) is None


def test_nothing_is_worked_out_from_times_that_contradict_each_other() -> None:
    """Ninety minutes that were held up for a hundred: no pace of mesh comes of them."""
    held_up = work(delays=[{"minutes": 60, "cause": "power"}, {"minutes": 40, "cause": "water"}])
    just = work(delays=[{"minutes": 90, "cause": "power"}])

    assert (times_contradict(held_up), minutes_of(held_up)) == (True, None)
    assert (times_contradict(just), minutes_of(just)) == (False, 90)
    assert times_contradict(work(finished_at=BEGAN))
    assert not times_contradict(work(finished_at=None))


def test_mesh_is_counted_in_pieces_or_in_square_metres() -> None:
    # ten sheets of 3.0 × 2.4 m
    assert meshed_m2(DECLINE.mesh, USED) == Decimal("72.00")
    assert meshed_m2(DECLINE.mesh, Used(mesh_pieces=10, mesh_m2=Decimal("70.5"))) == Decimal(
        "70.5"
    )
    assert meshed_m2(DECLINE.mesh, Used()) is None
    assert meshed_m2(WIDE.mesh, USED) is None


def test_what_was_used_is_compared_with_the_take_off() -> None:
    found = {it.kind: it.more for it in compared(TAKEN, USED)}

    assert found == {"bolts": 2, "plates": 1, "capsules": 6, "sheets": 0}
    assert compared(TAKEN, Used()) == ()


def test_a_round_costs_its_material_and_the_hours_of_its_crew() -> None:
    # 36 · 24.50 + 36 · 6.20 + 108 · 3.10 + 72 · 9.80; used 38, 37, 114, 72 and 3 · 1.5 h · 95
    prices = STANDARD.prices
    assert prices is not None

    assert material_cost(TAKEN, prices) == Decimal("2145.60")
    assert cost_of_round(DECLINE, TAKEN, work(), prices) == Decimal("2646.90")


@pytest.mark.parametrize(
    "left_out",
    [
        {"crew_size": None},
        {"started_at": None},
        {"used": USED.model_copy(update={"plates": None})},
        {"used": USED.model_copy(update={"capsules": None})},
        {"used": USED.model_copy(update={"mesh_pieces": None})},
        {"used": USED.model_copy(update={"bolts": ()})},
    ],
)
def test_what_is_not_stated_leaves_the_cost_unknown(left_out: dict[str, object]) -> None:
    assert STANDARD.prices is not None
    assert cost_of_round(DECLINE, TAKEN, work(**left_out), STANDARD.prices) is None


def test_a_bolt_without_a_price_has_no_cost_and_the_engineer_is_told() -> None:
    prices = {"bolts": [{"bolt_type": "PB24", "each": "21.00"}]}
    standard = changed(put_in("prices", **prices))
    assert standard.prices is not None

    assert material_cost(TAKEN, standard.prices) is None
    assert [it.reason.split(" ")[0] for it in warnings(standard)] == ["LB50", "RB24"]


def test_a_price_of_a_bolt_that_no_class_has_is_refused() -> None:
    more = {"bolts": [{"bolt_type": "XX", "each": "1"}, {"bolt_type": "RB24", "each": "1"}]}

    (refusal,) = refusals(changed(put_in("prices", **more)))
    assert refusal.reason == "no class has a bolt XX"
