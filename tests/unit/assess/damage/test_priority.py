"""A priority is looked up in the mine's own table, and another look never delays a repair."""

from datetime import timedelta

import pytest

from fieldapp.assess.damage import urgency
from tests.damages import SEEN, decided, mm, ranked, seen
from tests.standards import changed, put_in


@pytest.mark.parametrize(
    ("severity", "exposure", "code"),
    [("S3", "E1", "P3"), ("S3", "E3", "P2"), ("S3", "E4", "P1"), ("S1", "E4", "P4")],
)
def test_severity_and_exposure_are_looked_up(severity: str, exposure: str, code: str) -> None:
    """Of the demo's own table, S-2 10.3."""
    assert ranked(seen(severity=severity, exposure=exposure)).priority == code


def test_the_due_date_counts_from_when_it_was_seen() -> None:
    """P2 is due within 7 days: S-2, 10.3."""
    found = ranked(seen())

    assert found.due_at == SEEN + timedelta(days=7)
    assert not found.escalated


def test_what_is_overdue_is_escalated_and_says_by_how_long() -> None:
    found = ranked(seen(), days=10)

    assert found.escalated
    assert "overdue by 3 days, escalated" in found.because


def test_ground_that_people_are_kept_from_stands_above_whatever_is_overdue() -> None:
    """S-2, 10.3: S5 under E3 is a P1, no entry; S3 a P2, nobody on foot; S1 a P4, late."""
    grave = ranked(seen(severity="S5"))
    late = ranked(seen(severity="S1", exposure="E4"), days=200)
    first = seen(exposure="E1", extent={"bag_depth": mm(120)})
    worse = ranked(first, seen(30, exposure="E1", extent={"bag_depth": mm(150)}), days=1)
    usual = ranked(seen(severity="S3", exposure="E3"))

    assert (grave.holds, grave.escalated) == ("no entry", False)
    assert (late.holds == "no entry", late.escalated) == (False, True)
    assert (worse.grown, worse.holds) == (True, "restricted")
    assert (usual.holds, late.holds) == ("restricted", "open")
    assert sorted((late, usual, worse, grave), key=urgency) == [grave, worse, usual, late]


def test_among_ground_of_one_entry_what_is_overdue_stands_first() -> None:
    usual, late = (ranked(seen(severity="S3", exposure="E3"), days=it) for it in (0, 10))

    assert (usual.holds, late.holds, late.escalated) == ("restricted", "restricted", True)
    assert sorted((usual, late), key=urgency) == [late, usual]


def test_an_exposure_that_nobody_stated_counts_as_the_most_urgent() -> None:
    found = ranked(seen(exposure=None))

    assert found.priority == "P1"
    assert "exposure not stated" in found.because


def test_a_severity_that_nobody_judged_keeps_people_on_foot_out() -> None:
    found = ranked(seen(severity=None))

    assert (found.priority, found.holds) == (None, "restricted")
    assert found.because == ("severity not judged: the engineer decides",)


def test_a_standard_without_a_table_leaves_it_to_the_engineer() -> None:
    older = changed(put_in(rehab_matrix=[], exposures=[]))
    found = ranked(seen(), standard=older)

    assert (found.priority, found.holds) == (None, "restricted")
    assert found.because == ("no matrix in this standard: the engineer decides",)


def test_without_any_standard_nobody_walks_beneath_it() -> None:
    assert ranked(seen(), standard=None).holds == "restricted"


def test_the_gravest_that_was_ever_seen_stands() -> None:
    """Somebody who saw less of it puts nothing right: that takes a correction."""
    found = ranked(seen(severity="S4"), seen(30, severity="S1"), days=30)

    assert found.priority == "P1"


def test_another_look_delays_nothing() -> None:
    found = ranked(seen(severity="S3"), seen(5, severity="S3"), days=5)

    assert found.due_at == SEEN + timedelta(days=7)


def test_damage_that_became_graver_is_due_from_that_look() -> None:
    """S4 on day 5 is P1, due in one day: sooner than day 7."""
    found = ranked(seen(severity="S3"), seen(5, severity="S4"), days=5)

    assert found.due_at == SEEN + timedelta(days=6)


def test_a_bag_that_grew_by_a_quarter_is_raised_and_says_by_how_much() -> None:
    """From 120 to 150 mm is 25 %, where S-2 10.5 says grown; E1 makes S3 a P3, raised to P2."""
    first = seen(exposure="E1", extent={"bag_depth": mm(120)})
    again = seen(30, exposure="E1", extent={"bag_depth": mm(150)})
    found = ranked(first, again, days=30)

    assert found.priority == "P2"
    assert "bagging depth grown from 120 to 150 mm, by 25 %" in found.because


def test_growth_short_of_the_rule_raises_nothing() -> None:
    first = seen(exposure="E1", extent={"bag_depth": mm(120)})
    again = seen(30, exposure="E1", extent={"bag_depth": mm(149)})

    assert ranked(first, again, days=30).priority == "P3"


def test_a_hole_counted_larger_in_openings_has_grown() -> None:
    found = ranked(seen(extent={"openings": 2}), seen(30, extent={"openings": 3}), days=30)

    assert "hole grown from 2 to 3 openings, by 50 %" in found.because


def test_the_most_urgent_priority_is_raised_no_further() -> None:
    first = seen(severity="S5", extent={"bag_depth": mm(100)})

    assert ranked(first, seen(9, severity="S5", extent={"bag_depth": mm(200)})).priority == "P1"


def test_an_engineer_may_decide_otherwise_and_says_why() -> None:
    found = ranked(seen(), decided(1, "P4", "old drive, bulkhead goes in this week"))

    assert found.priority == "P4"
    assert "P4, decided by an engineer: old drive, bulkhead goes in this week" in found.because


def test_nobody_else_decides() -> None:
    said = {"priority": "P4", "because": "looks fine"}

    assert ranked(seen(), seen(1, decided=said)).priority == "P2"


def test_what_is_seen_after_the_decision_is_looked_up_again() -> None:
    by_engineer = decided(1, "P4", "old drive, bulkhead goes in this week")
    found = ranked(seen(), by_engineer, seen(2, severity="S5"))

    assert found.priority == "P1"
