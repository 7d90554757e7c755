from schemas.bodies.round import Called, GroundSeen
from schemas.findings import Finding, Verdict
from tests.unit.assess.conforming import LOOKED, conforming, finding, with_round


def seen(condition: str, answer: str | None = None) -> Finding:
    called = None if answer is None else Called(who="the engineer", at=LOOKED, answer=answer)
    ground = GroundSeen.model_validate({"condition": condition, "called": called})
    return finding(with_round(conforming(), ground=ground), "ground_condition")


def test_ground_as_expected_is_accepted() -> None:
    assert seen("as expected").verdict is Verdict.ACCEPT


def test_ground_nobody_looked_at_holds_entry_at_the_gravest_it_could_be() -> None:
    found = finding(with_round(conforming(), ground=None), "ground_condition")

    assert (found.verdict, found.holds) == (Verdict.NOT_LOOKED_AT, Verdict.NO_ENTRY)


def test_a_fault_stops_the_round_until_the_engineer_is_called() -> None:
    found = seen("fault or wedge")

    assert found.verdict is Verdict.NO_ENTRY
    assert found.fix == ("call the geotechnical engineer: fault or wedge",)


def test_after_the_call_it_goes_on_where_the_standard_lets_it() -> None:
    assert seen("wetter", "goes on as it is").verdict is Verdict.ACCEPT
    assert seen("spalling", "goes on as it is").verdict is Verdict.REWORK
    assert seen("noise", "goes on as it is").verdict is Verdict.NO_ENTRY


def test_stop_and_wait_stops() -> None:
    assert seen("wetter", "stop and wait").verdict is Verdict.REWORK


def test_a_call_that_nobody_answered_lets_nothing_go_on() -> None:
    assert seen("wetter", "").verdict is Verdict.REWORK
    assert seen("wetter", "Stop and wait ").verdict is Verdict.REWORK


def test_a_call_to_nobody_lets_nothing_go_on() -> None:
    called = Called(who=" ", at=LOOKED, answer="goes on as it is")
    ground = GroundSeen(condition="wetter", called=called)

    assert finding(with_round(conforming(), ground=ground), "ground_condition").verdict is (
        Verdict.REWORK
    )
