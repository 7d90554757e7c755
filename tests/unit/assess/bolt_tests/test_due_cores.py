"""Sets of cores are due by how much was sprayed and on how many days, once they are old enough."""

from datetime import datetime, timedelta, timezone
from decimal import Decimal
from typing import Any

import pytest

from fieldapp.assess.bolt_tests import Due, JudgedTest, PutIn, due_tests, put_in
from fieldapp.assess.standard_words.watch_words import bolt_tests
from schemas.bolt_test_rules import CoreRule
from schemas.standard import Standard
from tests.unit.assess.bolt_tests.pulls import STANDARD, TESTED, a_round, held, made
from tests.unit.assess.conforming import conforming

ACI: dict[str, Any] = {"one_set_per_m3": Decimal(38), "one_set_per_day": True}
"""ACI 506.2: one panel for each 50 yd³ (38 m³) or each day."""
NO_SHARE: dict[str, Any] = {"one_set_per_m3": None, "one_set_per_day": False}
OLD_ENOUGH = TESTED + timedelta(days=40)


def by(**share: Any) -> Standard:
    assert STANDARD.cores is not None
    rule = CoreRule.model_validate(STANDARD.cores.model_dump() | share)
    return STANDARD.model_copy(update={"cores": rule})


def sprayed(number: int, m3: str, day: float = 0) -> PutIn:
    at = TESTED + timedelta(days=day)
    return a_round(number, sprayed_at=at, sprayed_m3=Decimal(m3))


def pressed(name: str, chainage_m: str = "584.0") -> JudgedTest:
    """Give a set that passed, of round 1's shotcrete."""
    said = {"kind": "shotcrete cores", "bolt_type": None, "age_days": 28, "pulled": ()}
    return made(name, held(**said, chainage_m=chainage_m, cores_mpa=("30", "31", "32")))


def cores(
    rounds: list[PutIn],
    *tests: JudgedTest,
    standard: Standard | None = None,
    at: datetime = OLD_ENOUGH,
) -> list[Due]:
    found = due_tests(rounds, tests, standard or by(**ACI), at)
    return [it for it in found if it.kind == "shotcrete cores"]


@pytest.mark.parametrize(
    ("rounds", "sets"),
    [
        ([sprayed(1, "9.4")], 1),
        ([sprayed(1, "38"), sprayed(2, "0.1")], 2),
        ([sprayed(1, "9.4"), sprayed(2, "9.4", 1), sprayed(3, "9.4", 2)], 3),
        ([sprayed(1, "80"), sprayed(2, "9.4", 1)], 3),
        ([a_round(1)], 0),
    ],
)
def test_each_38_cubic_metres_or_day_asks_for_a_set_whichever_is_more(
    rounds: list[PutIn], sets: int
) -> None:
    assert sum(it.of for it in cores(rounds)) == sets


def test_a_standard_that_states_no_share_asks_for_none() -> None:
    """A standard from before shares were stated says nothing of how many sets."""
    assert cores([sprayed(1, "80")], standard=by(**NO_SHARE)) == []


def test_a_set_that_was_pressed_is_one_less_and_the_next_is_due_once_it_is_of_age() -> None:
    rounds = [sprayed(1, "9.4"), sprayed(2, "9.4", 20)]
    (due,) = cores(rounds, pressed("first"))

    assert (due.tests, due.of) == (1, 2)
    assert due.since == TESTED + timedelta(days=48)
    assert not due.is_due(OLD_ENOUGH)
    assert cores(rounds, pressed("first"), pressed("second")) == []


def test_what_is_of_age_is_counted_alone_while_a_set_of_it_is_missing() -> None:
    rounds = [sprayed(1, "9.4"), sprayed(2, "9.4", 20)]
    (due,) = cores(rounds)

    assert (due.tests, due.of, due.is_due(OLD_ENOUGH)) == (1, 1, True)
    assert due.words == "a set per 38 m³ or day: 9.4 m³ on 1 day"


def test_the_days_are_those_of_the_zone_in_which_it_is_asked() -> None:
    """23:00 and 01:00 UTC are one night shift, and one day three hours farther west."""
    late = [sprayed(1, "9.4", 14 / 24), sprayed(2, "9.4", 16 / 24)]
    west = OLD_ENOUGH.astimezone(timezone(timedelta(hours=-3)))

    assert [it.of for it in cores(late)] == [2]
    assert [it.of for it in cores(late, at=west)] == [1]


def test_what_lies_on_a_round_is_its_rock_its_advance_and_its_thickness() -> None:
    """11.14 m of rock in a row, 3.6 m of advance, 85 mm as probed: 3.41 m³, by hand."""
    bundle = conforming("W3", 3)
    demanded = bundle.standard.support_class("W3")
    assert demanded is not None

    assert put_in("round", bundle.round, demanded).sprayed_m3 == Decimal("3.4")


def test_the_standard_says_how_many_sets_in_words() -> None:
    told = [line.demanded for line in bolt_tests(by(**ACI))]

    assert "A set is pressed for each 38 m³ sprayed or day." in told
    assert not any("A set is pressed" in line.demanded for line in bolt_tests(by(**NO_SHARE)))


def test_a_set_of_other_shotcrete_is_none_of_what_was_sprayed_here() -> None:
    (due,) = cores([sprayed(1, "9.4")], pressed("a", "480.4"))

    assert due.tests == 1
