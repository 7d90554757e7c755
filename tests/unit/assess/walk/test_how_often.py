"""How often ground is walked, by the demo's standard and by others."""

from typing import Any

import pytest

from fieldapp.assess.walk import Condition, Interval, interval
from tests.standards import changed


def how_often(*intervals: dict[str, Any] | None, **known: Any) -> Interval:
    """Ask the demo's standard; with other intervals where some are given."""

    def with_intervals(document: dict[str, Any]) -> None:
        if intervals:
            because = {"because": "S-2, 10.4"}
            document["walk"]["intervals"] = [because | it for it in intervals if it]

    standard = changed(with_intervals)
    assert standard.walk is not None
    nothing: dict[str, Any] = {
        "support_classes": frozenset({"D1"}),
        "corrosivity": None,
        "exposure": None,
        "corrosion": None,
        "severity": None,
    }
    return interval(standard, standard.walk, Condition(**(nothing | known)))


def test_where_nothing_is_known_the_rule_s_own_interval_holds() -> None:
    assert how_often() == Interval(30, "every 30 days")


@pytest.mark.parametrize(
    ("known", "days", "because"),
    [
        ({"exposure": "E1"}, 180, "every 180 days: exposure E1"),
        ({"exposure": "E4"}, 21, "every 21 days: exposure E4"),
        ({"corrosivity": "C3"}, 30, "every 30 days"),
        ({"corrosivity": "C4"}, 21, "every 21 days: air and water C4"),
        ({"corrosivity": "CX"}, 21, "every 21 days: air and water CX"),
        ({"corrosion": 2}, 30, "every 30 days"),
        ({"corrosion": 4}, 14, "every 14 days: rust of grade 4"),
        ({"severity": "S1"}, 30, "every 30 days"),
        ({"severity": "S3"}, 14, "every 14 days: severity S3"),
    ],
)
def test_what_is_known_of_the_ground_makes_it_shorter_or_longer(
    known: dict[str, Any], days: int, because: str
) -> None:
    assert how_often(**known) == Interval(days, because)


def test_of_several_that_hold_the_shortest_counts() -> None:
    assert how_often(exposure="E1", corrosion=3).days == 14


def test_all_that_an_interval_names_must_hold() -> None:
    both = {"exposure": "E2", "corrosivity_from": "C3", "interval_days": 7}

    assert how_often(both, exposure="E2").days == 30
    assert how_often(both, exposure="E2", corrosivity="C3").days == 7


def test_a_section_of_two_classes_is_walked_as_often_as_either() -> None:
    of_class = {"support_class": "O2", "interval_days": 10}

    assert how_often(of_class, support_classes=frozenset({"D1"})).days == 30
    assert how_often(of_class, support_classes=frozenset({"D1", "O2"})).days == 10


def test_an_interval_that_names_nothing_holds_everywhere() -> None:
    assert how_often({"interval_days": 20}) == Interval(20, "every 20 days")


def test_a_severity_that_the_card_has_no_more_is_taken_as_grave() -> None:
    assert how_often(severity="R5").days == 14
