"""A standard by which worse ground would wait longer, or rust would slow down, is refused."""

from typing import Any

import pytest

from fieldapp.assess.standard_check import refusals, warnings
from tests.standards import Change, changed, put_in

C4, E4, RUST, GRAVE = 1, 2, 3, 4
"""Where the demo's intervals stand: C4 and worse, E4, rust from grade 3, severity from S2."""
GRADE_4 = 4
RATE_C4 = 3
WIRE = 2


def added(**interval: Any) -> Change:
    """Add an interval to those of the demo."""

    def change(document: Any) -> None:
        document["walk"]["intervals"].append({"because": "S-2, 10.4"} | interval)

    return change


@pytest.mark.parametrize(
    ("change", "path", "reason"),
    [
        (
            added(support_class="D9", interval_days=7),
            "$.walk.intervals[5].support_class",
            "D9 is none of the standard's support classes",
        ),
        (
            put_in("walk", "intervals", E4, exposure="E7"),
            "$.walk.intervals[2].exposure",
            "E7 is none of the standard's exposures",
        ),
        (
            put_in("walk", "intervals", GRAVE, severity_from="R3"),
            "$.walk.intervals[4].severity_from",
            "R3 is none of the standard's severities",
        ),
        (
            added(exposure="E4", interval_days=14),
            "$.walk.intervals[5]",
            "an interval for the same ground stands there twice",
        ),
        (
            added(corrosion_from=4, interval_days=20),
            "$.walk.intervals[5].interval_days",
            "20 days never counts: all of that ground is walked every 14 days",
        ),
        (
            added(severity_from="S4", exposure="E2", interval_days=21),
            "$.walk.intervals[5].interval_days",
            "21 days never counts: all of that ground is walked every 14 days",
        ),
        (
            put_in("walk", "intervals", RUST, interval_days=60),
            "$.walk.intervals[3].interval_days",
            "60 days is longer than the 30 days of ground that is no worse",
        ),
        (
            put_in("walk", "intervals", C4, interval_days=31),
            "$.walk.intervals[1].interval_days",
            "31 days is longer than the 30 days of ground that is no worse",
        ),
        (
            put_in("walk", "looked_at", 1, of="bolts"),
            "$.walk.looked_at[1].of",
            "bolts stand there twice",
        ),
        (
            put_in("corrosion", "grades", GRADE_4, grade=3),
            "$.corrosion.grades[4].grade",
            "grade 3 stands there twice",
        ),
        (
            put_in("corrosion", "grades", GRADE_4, grade=3),
            "$.corrosion.bolt_counts_below_grade",
            "the card has no grade 4",
        ),
        (
            put_in("corrosion", "rates", RATE_C4, corrosivity="C5"),
            "$.corrosion.rates[4].corrosivity",
            "C5 stands there twice",
        ),
        (
            put_in("corrosion", "rates", RATE_C4, steel_um_per_year="40"),
            "$.corrosion.rates[3].steel_um_per_year",
            "steel loses 40 µm a year in C4, and 50 µm in the milder C3",
        ),
        (
            put_in("corrosion", "rates", RATE_C4, zinc_um_per_year="9"),
            "$.corrosion.rates[4].zinc_um_per_year",
            "zinc loses 8.4 µm a year in C5, and 9 µm in the milder C4",
        ),
        (
            put_in("corrosion", "left", WIRE, of="bar"),
            "$.corrosion.left[2].of",
            "bar stands there twice",
        ),
    ],
)
def test_what_can_t_be_walked_or_judged_by_is_refused(
    change: Change, path: str, reason: str
) -> None:
    found = [(it.path, it.reason) for it in refusals(changed(change))]

    assert (path, reason) in found


@pytest.mark.parametrize(
    ("change", "path", "reason"),
    [
        (added(interval_days=29), "$.walk.intervals[5]", "it names no ground"),
        (
            put_in("walk", full_zones_in_ten_sections=0),
            "$.walk.full_zones_in_ten_sections",
            "nobody is asked to look closely",
        ),
        (put_in("walk", looked_at=[]), "$.walk.looked_at", "how many bolts or bays"),
        (put_in("corrosion", grades=[]), "$.corrosion.grades", "there is no card"),
        (put_in("corrosion", rates=[]), "$.corrosion.rates", "in C1, C2, C3, C4, C5, CX"),
        (
            put_in("corrosion", "rates", RATE_C4, steel_um_per_year="50"),
            "$.corrosion.rates[3].steel_um_per_year",
            "50 µm of steel in the first year is C3 in ISO 9223, milder than C4",
        ),
        (put_in("corrosion", left=[]), "$.corrosion.left", "the wire of mesh"),
        (put_in("corrosion", left=[]), "$.corrosion.left", "the bar of bolts"),
        (
            put_in("corrosion", "left", WIRE, share_at_least="1"),
            "$.corrosion.left[2].share_at_least",
            "would fail with its first rust",
        ),
    ],
)
def test_what_the_engineer_should_know_is_said(change: Change, path: str, reason: str) -> None:
    found = [it.reason for it in warnings(changed(change)) if it.path == path]

    assert any(reason in told for told in found), found


@pytest.mark.parametrize(
    "change",
    [
        added(exposure="E1", corrosion_from=4, interval_days=14),
        added(support_class="D1", interval_days=90),
        added(corrosion_from=5, interval_days=1),
    ],
)
def test_a_longer_interval_where_few_go_or_a_shorter_one_where_it_is_worse_is_sound(
    change: Change,
) -> None:
    assert refusals(changed(change)) == ()


def test_the_demo_s_own_standard_is_sound() -> None:
    standard = changed(lambda document: document)

    assert refusals(standard) == ()
    assert warnings(standard) == ()
