from decimal import Decimal

from schemas.bodies.round import LapSeen
from schemas.findings import Finding, Verdict
from tests.unit.assess.conforming import conforming, finding, with_limit, with_round


def lap(code: str = "D1", **answers: object) -> Finding:
    seen = LapSeen.model_validate({"number": 1, "held": True, **answers})
    bundle = conforming(code)
    laps = (seen, *bundle.round.laps[1:])
    return finding(with_round(bundle, laps=laps), "mesh_lap")


def test_a_lap_nobody_looked_at() -> None:
    assert lap().verdict is Verdict.NOT_LOOKED_AT


def test_a_lap_short_by_one_opening_is_rework() -> None:
    found = lap(openings=2)

    assert (found.verdict, found.measured, found.unit) == (Verdict.REWORK, "200", "mm")
    assert found.fix == ("cover lap 1 with a strip of mesh and plate it",)


def test_a_lap_exactly_at_the_limit_is_accepted() -> None:
    assert lap(openings=3).verdict is Verdict.ACCEPT
    assert lap(least_mm="300").verdict is Verdict.ACCEPT
    assert lap(least_mm="299").verdict is Verdict.REWORK


def test_openings_of_a_finer_mesh_are_as_many_as_its_standard_says() -> None:
    """Chain link of 75 mm: four openings are 300 mm, three are 225 mm."""
    assert lap("O2", openings=4).verdict is Verdict.ACCEPT
    assert lap("O2", openings=3).measured == "225"


def test_counted_and_taped_both_have_to_do() -> None:
    assert lap(openings=3, least_mm="280").verdict is Verdict.REWORK


def test_a_lap_measured_on_a_photo_carries_the_photo_s_own_doubt() -> None:
    """The standard's photo is good to 50 mm, this one only to 80: 420 − 2 × 80 < 300."""
    bundle = with_limit(conforming(), "mesh_lap", guard_factor=Decimal(2))
    sure = LapSeen(number=1, least_mm=Decimal(420), method="photo", held=True)
    unsure = sure.model_copy(update={"doubt_mm": Decimal(80)})
    surer = sure.model_copy(update={"doubt_mm": Decimal(1)})

    assert bundle.standard.measuring.photo_m == Decimal("0.05"), "or nothing would be said here"
    assert finding(with_round(bundle, laps=(sure,)), "mesh_lap").verdict is Verdict.ACCEPT
    assert finding(with_round(bundle, laps=(unsure,)), "mesh_lap").verdict is Verdict.MEASURE_AGAIN
    assert (
        finding(with_round(bundle, laps=(surer,)), "mesh_lap").uncertainty
        == finding(with_round(bundle, laps=(sure,)), "mesh_lap").uncertainty
    ), "a photo is never taken for surer than the standard holds it"


def test_a_taped_lap_decides_with_its_doubt_where_the_standard_has_a_guard_band() -> None:
    bundle = with_limit(conforming(), "mesh_lap", guard_factor=Decimal(2))
    taped = LapSeen(number=1, least_mm=Decimal(310), held=True)
    again = taped.model_copy(update={"again": True})

    assert finding(with_round(bundle, laps=(taped,)), "mesh_lap").verdict is Verdict.MEASURE_AGAIN
    assert finding(with_round(bundle, laps=(again,)), "mesh_lap").verdict is Verdict.REWORK
