"""Which tests are due: by the share, after a change, torque read again; and what follows one."""

from datetime import timedelta
from typing import Any

from fieldapp.assess.bolt_tests import Due, JudgedTest, PutIn, due_tests, opened_by
from fieldapp.assess.bolt_tests.follows import counts_as_gone
from tests.unit.assess.bolt_tests.pulls import (
    STANDARD,
    TESTED,
    a_round,
    held,
    made,
    pull,
    slipped,
)


def due(rounds: list[PutIn], *tests: JudgedTest, days: int = 0) -> dict[tuple[str, str], Due]:
    found = due_tests(rounds, tests, STANDARD, TESTED + timedelta(days=days))
    return {(it.kind, it.why): it for it in found}


def shares(rounds: list[PutIn], *tests: JudgedTest) -> int:
    """Give how many proof tests are still due by the share."""
    found = due(rounds, *tests).get(("proof pull", "by the standard's share"))
    return found.tests if found else 0


def rounds(count: int, **said: Any) -> list[PutIn]:
    return [a_round(number, **said) for number in range(1, count + 1)]


def test_at_least_three_then_one_in_a_hundred() -> None:
    """27 bolts: 3. 13 rounds of 27 are 351: ⌈3.51⌉ = 4."""
    assert (shares(rounds(1)), shares(rounds(13))) == (3, 4)


def test_one_percent_of_2350_bolts_are_24_tests() -> None:
    """Trade arithmetic: 1 % of 2,350 is 23.5, and half a bolt can't be pulled."""
    assert shares([a_round(1, bolts={"RB24": 2350})]) == 24


def test_no_more_tests_are_due_than_there_are_bolts() -> None:
    assert shares([a_round(1, bolts={"RB24": 2})]) == 2


def test_a_test_counts_to_the_share_whether_it_passed_or_failed() -> None:
    assert shares(rounds(3), made("a", held()), made("b", slipped())) == 1


def test_a_look_at_a_suspect_counts_to_no_share() -> None:
    extra = [made(why, held(why=why)) for why in ("suspected", "follows a failed test")]

    assert shares(rounds(3), *extra) == 3


def test_what_cant_be_judged_was_not_tested() -> None:
    assert shares(rounds(3), made("a", pull())) == 3


def test_a_destructive_test_counts_to_no_share_of_proof_tests() -> None:
    gone = pull((0, 0), (120, 9), kind="destructive pull", broke="bar", part_of_support=False)

    assert shares(rounds(3), made("a", gone)) == 3
    assert ("destructive pull", "by the standard's share") not in due(rounds(3), made("a", gone))


def test_a_test_of_other_support_counts_to_no_share_whatever_came_of_it() -> None:
    """The lot lies at 588.1-590.8 m: what was pulled outbye of it says nothing of its bolts."""
    lot = [a_round(3)]
    outbye = made("a", held(chainage_m="570.4")), made("b", slipped(chainage_m="480.4"))
    gone = pull((0, 0), (120, 9), kind="destructive pull", broke="bar", chainage_m="586.0")
    left = due(lot, *outbye, made("c", gone))

    assert left["proof pull", "by the standard's share"].tests == 3
    assert left["destructive pull", "by the standard's share"].tests == 1
    assert shares(lot, *outbye, made("d", held())) == 2


def test_a_test_that_names_its_round_is_of_that_round_alone() -> None:
    lot = [a_round(3)]

    assert shares(lot, made("a", held(round="round 3", chainage_m="588.1"))) == 2
    assert shares(lot, made("a", held(round="round 2"))) == 3


def test_one_more_is_due_after_ground_batch_or_crew_changed() -> None:
    changed = a_round(
        2, ground="fault or wedge", batches=frozenset({"RB24-1", "RB24-2"}), crew="crew B"
    )
    found = due([a_round(1), changed])

    assert {why: it.words for (kind, why), it in found.items() if why[0] in "cn"} == {
        "change of ground": "ground fault or wedge, was as expected, round 2",
        "change of batch": "batch RB24-2 for the first time, round 2",
        "new crew": "crew B for the first time, round 2",
    }


def test_a_test_on_what_was_put_in_since_closes_a_change_and_one_before_does_not() -> None:
    two = [a_round(1), a_round(2, crew="crew B"), a_round(3, crew="crew B")]

    def open_after(chainage_m: str) -> bool:
        one = made("a", held(why="new crew", chainage_m=chainage_m))
        return ("proof pull", "new crew") in due(two, one)

    assert open_after("585.0"), "that is round 1, before the crew came"
    assert not open_after("588.0")


def test_each_change_has_a_test_of_its_own() -> None:
    crews = [a_round(n, crew=f"crew {n}") for n in (1, 2, 3)]
    first = made("a", held(why="new crew", chainage_m="586.0"))
    second = made("b", held(why="new crew", chainage_m="590.0"))

    left = due(crews, first)[("proof pull", "new crew")]

    assert left.words == "crew 3 for the first time, round 3"
    assert ("proof pull", "new crew") not in due(crews, first, second)


def test_torque_is_read_again_ninety_days_after_the_bolts_and_after_each_whole_share() -> None:
    """41 bolts, one in 20: 3 of them."""
    points = [a_round(3, bolts={"PB24": 41}, at=TESTED)]

    def read(day: int) -> JudgedTest:
        at = TESTED + timedelta(days=day)
        said: dict[str, Any] = {"kind": "torque", "bolt_type": "PB24", "torque_nm": "200"}
        return made(f"{day}", pull(tested_at=at, **said))

    def torque(*tests: JudgedTest, day: int) -> tuple[int, bool]:
        found = due(points, *tests, days=day)[("torque", "by the standard's share")]
        return found.tests, found.is_due(TESTED + timedelta(days=day))

    assert torque(day=89) == (3, False)
    assert torque(day=90) == (3, True)
    assert torque(read(90), day=91) == (2, True)
    assert torque(read(90), read(91), read(92), day=93) == (3, False)
    assert torque(read(90), read(91), read(92), day=181) == (2, True)


def test_a_failed_test_opens_tests_of_its_neighbours_until_they_are_made() -> None:
    failed = made("failed", slipped())
    opened = opened_by(failed, (failed,), rounds(1), "to be recorded as damage", "in doubt")
    one = made("next", held(why="follows a failed test", after="failed"))
    other = made("other", held(why="follows a failed test", after="another"))
    after = opened_by(failed, (failed, one, other), rounds(1), "replaced", "in doubt")

    assert (opened.which, opened.tests) == ("the 2 nearest bolts", 2)
    assert opened.batch == "in doubt"
    assert (after.tests, after.is_open) == (1, True)


def test_a_failed_destructive_test_has_every_bolt_of_its_round_pulled_none_destroyed() -> None:
    """27 in the round; the one that failed was put in beside them."""
    gave = pull((0, 0), (60, 9), kind="destructive pull", broke="bar", part_of_support=False)
    opened = opened_by(made("a", gave), (), rounds(4), "not needed", "in doubt")

    assert (opened.which, opened.tests, opened.kind) == (
        "every bolt of round 3",
        27,
        "proof pull",
    )


def test_a_failed_bolt_of_the_support_is_gone_and_so_is_one_pulled_until_it_gave() -> None:
    reached = pull((0, 0), (120, 9), kind="destructive pull", broke="bar")
    beside = reached.model_copy(update={"part_of_support": False})

    assert counts_as_gone(made("a", slipped()))
    assert counts_as_gone(made("a", reached))
    assert not counts_as_gone(made("a", beside))
    assert not counts_as_gone(made("a", held()))
