"""Nobody on foot beneath a hole, nobody beneath a bag: of the demo's decline, S-2 6.5 and 6.6.

Limits: one opening of 94.4 mm clear (100 mm pitch, 5.6 mm wire) above 1.8 m; 300 mm or 0.5 t.
"""

from typing import Any

import pytest

from fieldapp.assess.damage import Ranked
from tests.damages import mm, ranked, seen

MILD: dict[str, Any] = {"severity": "S1", "exposure": "E1"}
"""P4, whose entry stays open: what holds it here are the limits alone."""


def m(value: str, how: str = "tape", u95: str | None = None) -> dict[str, Any]:
    read: dict[str, Any] = {"value_m": value, "how": how}
    return read if u95 is None else read | {"u95_m": u95}


def hole(**extent: Any) -> Ranked:
    return ranked(seen(kind="torn mesh", extent=extent, **MILD))


def bag(**extent: Any) -> Ranked:
    return ranked(seen(kind="bagged mesh", extent=extent, **MILD))


def test_a_hole_of_two_openings_over_heads_ends_foot_traffic_until_it_is_patched() -> None:
    found = hole(openings=2, above_floor=m("2.4"))

    assert (found.priority, found.holds) == ("P4", "restricted")
    assert found.because[-1].startswith("nobody on foot beneath until patched: hole of 2 openings")
    assert not found.measure_again


def test_a_hole_of_one_opening_holds_nothing() -> None:
    assert hole(openings=1, above_floor=m("2.4")).holds == "open"


def test_a_hole_below_the_height_of_heads_holds_nothing() -> None:
    assert hole(openings=6, above_floor=m("1.2")).holds == "open"


@pytest.mark.parametrize(
    ("long", "holds", "again"),
    [
        (mm(70, u95=20), "open", False),  # 90 mm at most: within 94.4 with all its doubt
        (mm(80, u95=20), "restricted", True),  # 60 to 100 mm straddles 94.4
        (mm(120, u95=20), "restricted", False),  # 100 mm at least: over it
    ],
)
def test_a_hole_measured_on_a_photo_is_judged_with_its_doubt(
    long: dict[str, Any], holds: str, *, again: bool
) -> None:
    found = hole(length=long, above_floor=m("2.4"))

    assert (found.holds, found.measure_again) == (holds, again)


def test_a_smaller_count_of_openings_opens_no_way_beneath_a_hole() -> None:
    counted = seen(kind="torn mesh", extent={"openings": 4, "above_floor": m("2.4")}, **MILD)
    again = seen(1, kind="torn mesh", extent={"openings": 1}, **MILD)

    assert ranked(counted, again).holds == "restricted"


def test_a_tear_that_nobody_measured_counts_as_a_hole_over_heads() -> None:
    found = hole()

    assert (found.holds, found.measure_again) == ("restricted", True)
    assert "size not measured, height not measured" in found.because[-1]


def test_an_area_is_said_although_it_says_not_how_long_the_hole_is() -> None:
    area = {"value_m2": "0.42", "how": "photo", "u95_m2": "0.03"}
    found = hole(area=area)

    assert found.measure_again
    assert "hole of 0.42 ± 0.03 m² by photo, longer side not measured" in found.because[-1]


def test_a_height_that_straddles_counts_until_it_is_measured_again() -> None:
    """1.7 m by eye is 0.85 to 2.55 m: the demo's standard takes the eye for a quarter, twice."""
    glance = seen(kind="torn mesh", extent={"openings": 3, "above_floor": m("1.7", "eye")}, **MILD)
    taped = seen(1, extent={"above_floor": m("1.6")}, **MILD)

    assert ranked(glance).measure_again
    assert ranked(glance, taped).holds == "open"


def test_a_bag_deeper_than_300_mm_lets_nobody_beneath() -> None:
    found = bag(bag_depth=mm(340))

    assert found.holds == "no entry"
    assert found.because[-1] == (
        "nobody beneath: bagged 340 ± 20 mm by tape; limit 300 mm or 0.5 t"
    )


def test_a_shallow_bag_may_be_too_heavy() -> None:
    heavy = {"value_t": "0.9", "how": "eye", "u95_t": "0.3"}

    assert bag(bag_depth=mm(200), loose_mass=heavy).holds == "no entry"


def test_a_bag_taped_well_within_the_limit_holds_nothing() -> None:
    assert bag(bag_depth=mm(280)).holds == "open"


def test_a_bag_taped_too_near_the_limit_lets_nobody_beneath_until_measured_again() -> None:
    """290 ± 20 mm reaches past 300."""
    found = bag(bag_depth=mm(290))

    assert (found.holds, found.measure_again) == ("no entry", True)


def test_a_glance_never_makes_a_taped_bag_smaller() -> None:
    taped = seen(kind="bagged mesh", extent={"bag_depth": mm(340)}, **MILD)
    glance = seen(1, kind="bagged mesh", extent={"bag_depth": mm(100, "eye")}, **MILD)

    assert ranked(taped, glance).holds == "no entry"


def test_the_stricter_of_table_and_limits_stands() -> None:
    """P1 lets nobody in, the hole alone would end foot traffic only."""
    found = ranked(seen(kind="torn mesh", severity="S5", extent={"openings": 4}))

    assert found.holds == "no entry"
