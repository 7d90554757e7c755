from schemas.bodies.round import LapSeen
from schemas.findings import Finding, Verdict
from tests.unit.assess.conforming import conforming, finding, with_round


def held(**answers: object) -> Finding:
    lap = LapSeen.model_validate({"number": 1, "openings": 3, **answers})
    return finding(with_round(conforming(), laps=(lap,)), "lap_held")


def test_a_plate_on_both_sheets_all_along_is_accepted() -> None:
    assert held(held=True).verdict is Verdict.ACCEPT


def test_a_lap_that_is_not_held_says_where() -> None:
    found = held(held=False, not_held_where="back")

    assert found.verdict is Verdict.REWORK
    assert found.fix == ("plate both sheets: lap 1, back",)


def test_a_lap_that_nobody_followed_is_not_looked_at() -> None:
    assert held().verdict is Verdict.NOT_LOOKED_AT
