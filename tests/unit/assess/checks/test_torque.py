from decimal import Decimal

import pytest

from schemas.bodies.round import BoltSeen, TorqueSeen
from schemas.bundle import Bundle
from schemas.findings import Verdict
from tests.unit.assess.conforming import conforming, finding, missing, with_bolts, with_round


def read(**by_bolt: str) -> Bundle:
    """Rows of 6, 7 and 6 bolts: the rule names 1, 10 and 19."""
    bundle = conforming("O2")
    torques = {one.bolt: one for one in bundle.round.torques}
    for name, value in by_bolt.items():
        number = int(name.removeprefix("bolt"))
        again = number in torques and torques[number].torque_nm < 200
        torques[number] = TorqueSeen(bolt=number, torque_nm=Decimal(value), again=again)
    return with_round(bundle, torques=tuple(torques.values()))


def test_every_bolt_of_the_rule_inside_the_window_is_accepted() -> None:
    assert finding(conforming("O2"), "torque").verdict is Verdict.ACCEPT


def test_a_bolt_of_the_rule_that_nobody_read_is_not_looked_at() -> None:
    bundle = conforming("O2")
    torques = bundle.round.torques[:-1]
    found = finding(with_round(bundle, torques=torques), "torque")

    assert found.verdict is Verdict.NOT_LOOKED_AT
    assert found.places[0].row == 3


def test_too_low_and_too_high_are_both_breaches() -> None:
    low, high = finding(read(bolt10="180"), "torque"), finding(read(bolt10="350"), "torque")

    assert (low.verdict, low.measured, low.limit) == (Verdict.REWORK, "180", "at least 200")
    assert (high.verdict, high.measured, high.limit) == (Verdict.REWORK, "350", "at most 330")
    assert "and the next two" in low.fix[0]


def test_a_torque_in_the_guard_band_is_read_again_once() -> None:
    """200 N·m and k·u = 1.64 × 5 N·m: from 208 on it is within."""
    assert finding(read(bolt10="205"), "torque").verdict is Verdict.MEASURE_AGAIN
    assert finding(read(bolt10="209"), "torque").verdict is Verdict.ACCEPT


def torqued(bundle: Bundle, **by_bolt: str) -> Bundle:
    more = (
        TorqueSeen(bolt=int(name.removeprefix("bolt")), torque_nm=Decimal(value), again=True)
        for name, value in by_bolt.items()
    )
    return with_round(bundle, torques=(*bundle.round.torques, *more))


def test_the_latest_reading_of_a_bolt_stands() -> None:
    mended = torqued(read(bolt10="150"), bolt10="260", bolt11="260", bolt12="260")

    assert finding(mended, "torque").verdict is Verdict.ACCEPT


def test_a_bolt_torqued_again_leaves_the_next_two_to_be_read() -> None:
    """Situation: the sampled bolt was loose. Tightening it says nothing of its neighbours."""
    found = finding(torqued(read(bolt10="150"), bolt10="260"), "torque")

    assert found.verdict is Verdict.NOT_LOOKED_AT
    assert [place.position for place in found.places] == [5, 6]


def test_once_a_neighbour_was_loose_too_every_bolt_is_read() -> None:
    loose = torqued(read(bolt10="150"), bolt10="260", bolt11="150", bolt12="260")
    mended = torqued(loose, bolt11="260")

    assert finding(mended, "torque").verdict is Verdict.NOT_LOOKED_AT
    assert len(finding(mended, "torque").places) == 19 - 5


@pytest.mark.parametrize(
    ("row", "position", "instead"),
    [(1, 1, (1, 2)), (2, 4, (2, 5)), (3, 6, (3, 5))],
    ids=["the first", "every tenth", "the last"],
)
def test_the_next_bolt_is_read_for_one_that_is_not_there(
    row: int, position: int, instead: tuple[int, int]
) -> None:
    """30 CFR 57.3203(f)(2) names bolts installed; the last one has the one before it instead."""
    found = finding(with_bolts(conforming("O2"), row, missing(position)), "torque")

    assert found.verdict is Verdict.NOT_LOOKED_AT
    assert [(place.row, place.position) for place in found.places] == [instead]


def test_what_was_read_of_a_bolt_that_is_not_there_is_no_answer() -> None:
    """Situation: bolt 10 was read, and was marked broken afterwards."""
    broken = BoltSeen(position=4, state="broken")
    bundle = with_bolts(conforming("O2"), 2, broken)

    assert finding(bundle, "torque").verdict is Verdict.NOT_LOOKED_AT
    assert finding(torqued(bundle, bolt11="260"), "torque").verdict is Verdict.ACCEPT


def test_what_was_read_of_a_bolt_that_was_put_in_anew_is_no_answer() -> None:
    bundle = conforming("O2")
    torques = (one.model_copy(update={"gone": one.bolt == 10}) for one in bundle.round.torques)
    found = finding(with_round(bundle, torques=tuple(torques)), "torque")

    assert found.verdict is Verdict.NOT_LOOKED_AT
    assert [(place.row, place.position) for place in found.places] == [(2, 4)]


def test_a_bolt_out_of_its_window_asks_for_the_next_two_though_it_is_gone() -> None:
    """It was tightened until it broke: its neighbours are still to be read."""
    bundle = with_bolts(read(bolt10="150"), 2, BoltSeen(position=4, state="broken"))
    found = finding(bundle, "torque")

    assert [place.position for place in found.places] == [5, 6]
