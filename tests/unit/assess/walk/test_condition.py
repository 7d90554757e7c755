"""What was last said of a section: the worst of its parts, each as it was seen last."""

from datetime import date
from decimal import Decimal
from typing import Any

from fieldapp.assess.walk import PartStated, gravest, last_severities, worst_grade
from schemas.bodies.walk import PartSeen

CARD = ("S0", "S1", "S2", "S3")


def bolts(day: int, grade: int | None = None, /, **said: Any) -> PartStated:
    body = {"part": "bolts", "zone": "back", "corrosion_grade": grade} | said
    seen = PartSeen.model_validate(body)
    place = seen.chainage_m
    return PartStated(date(2031, 5, day), seen, None if place is None else Decimal(place))


def test_the_grade_that_was_seen_last_counts() -> None:
    assert worst_grade([bolts(1, 3), bolts(8, 2)]) == 2


def test_of_two_people_on_one_day_the_worse_counts() -> None:
    assert worst_grade([bolts(8, 2), bolts(8, 4)]) == 4


def test_each_part_and_zone_stands_until_it_is_seen_again() -> None:
    assert worst_grade([bolts(1, 3, part="mesh"), bolts(8, 1)]) == 3
    assert worst_grade([bolts(1, 3, zone="left wall"), bolts(8, 1)]) == 3


def test_one_place_stands_although_the_zone_as_a_whole_is_better() -> None:
    assert worst_grade([bolts(1, 4, chainage_m="133.4"), bolts(8, 1)]) == 4


def test_a_look_that_graded_nothing_changes_nothing() -> None:
    assert worst_grade([bolts(1, 3), bolts(8, severity="S1")]) == 3
    assert worst_grade([]) is None


def test_severities_are_those_that_were_seen_last() -> None:
    stated = [bolts(1, severity="S3"), bolts(8, severity="S1"), bolts(2, 4)]

    assert last_severities(stated) == ("S1",)


def test_the_gravest_goes_by_the_standard_s_own_card() -> None:
    assert gravest(["S1", None, "S2"], CARD) == "S2"
    assert gravest(["S3", "R5"], CARD) == "R5", "what the card lacks is taken as graver"
    assert gravest([None], CARD) is None
