"""Holes, capsules, rolls and packs that a standard states, and what it can't."""

import pytest

from fieldapp.assess.standard_check import refusals, warnings
from tests.standards import D1, O2, Change, changed, put


@pytest.mark.parametrize(
    ("change", "path", "reason"),
    [
        (put(D1, "bolts.0", bar_mm="28"), "bolts[0].bar_mm", "a bar of 28 mm has no room"),
        (put(D1, "bolts.0", capsule_mm="30"), "bolts[0].capsule_mm", "30 mm don't go in"),
        (put(D1, "bolts.0", bar_mm="17"), "bolts[0].bar_mm", "17 mm has less steel"),
        (put(D1, "bolts.0", tube_wall_mm="3"), "tube_wall_mm", "a grouted bar is no tube"),
        (put(D1, "bolts.0", hole_mm=None), "bolts[0].hole_mm", "how much resin a RB24 takes"),
        (put(O2, "mesh", pack_length_m=None), "mesh.pack_length_m", "so many metres in all"),
        (put(O2, "mesh", strips_per_pack=None), "mesh.strips_per_pack", "so many strips"),
    ],
)  # fmt: skip
def test_what_nobody_can_reckon_with_is_refused(change: Change, path: str, reason: str) -> None:
    (refusal,) = refusals(changed(change))

    assert refusal.path.endswith(path)
    assert reason in refusal.reason


@pytest.mark.parametrize(
    ("change", "path", "reason"),
    [
        (put(D1, "bolts.0", resin_m="2.5"), "bolts[0].resin_m", "more than the bolt's own 2.4 m"),
        (put(O2, "mesh", pack_length_m="30.0"), "pack_length_m", "its strips are 10 m long"),
        (put(O2, "mesh", roll_length_m="8.0"), "roll_length_m", "a roll of 8 m gives no strip"),
    ],
)
def test_what_the_engineer_should_know(change: Change, path: str, reason: str) -> None:
    (caution,) = warnings(changed(change))

    assert caution.path.endswith(path)
    assert reason in caution.reason
