"""What the engineer should know of a standard that can be adopted all the same."""

import json
from typing import Any

import pytest

from fieldapp.assess.standard_check import warnings
from schemas.reading import read_model
from schemas.standard import Standard
from tests.standards import D1, DEMO, O2, W3, Change, changed, put, put_in


@pytest.mark.parametrize(
    ("change", "path", "reason"),
    [
        # 2.4 m sheets lapped 0.3 m advance 2.1 m: 2 of 9 laps meet a row at 1.2 m (computed)
        (
            put(O2, "mesh", along_drive_m="2.4"),
            "$.classes[1].mesh.along_drive_m",
            "rows at 1.2 m meet 2 laps of 9: a sheet advances 2.1 m",
        ),
        (
            put(D1, "mesh", along_drive_m="3.3"),
            "$.classes[0].mesh.along_drive_m",
            "meet 3 laps of 9: a sheet advances 3 m",
        ),
        (
            put(D1, "limits.mesh_lap", at_least_mm="150"),
            "$.classes[0].limits.mesh_lap.at_least_mm",
            "no bolt can be 100 mm inside both edges of a lap of 150 mm",
        ),
        (
            put(D1, "limits.mesh_lap", at_least_openings=2),
            "$.classes[0].limits.mesh_lap.at_least_openings",
            "2 openings of 100 mm are 200 mm, not 300 mm",
        ),
        # 1.4 × 1.0 m of 1.1 m at 27 kN/m³ are 41.6 kN, and the perfect bay 34.7 kN (computed)
        (
            put(D1, "limits.mesh_panel", loosened_m="1.1"),
            "$.classes[0].limits.mesh_panel.loosened_m",
            "a bay at full tolerance may hold 41.6 kN of broken rock, and its mesh 40 kN",
        ),
        (
            put(O2, "mesh", across_m="8.0"),
            "$.classes[1].mesh.across_m",
            "a strip of 8 m is shorter than the 8.333 m of rock",
        ),
        (
            put(D1, "limits.mesh_reach", above_floor_at_most_m="1.8"),
            "$.classes[0].limits.mesh_reach.above_floor_at_most_m",
            "higher than the lowest bolts, 1.6 m",
        ),
        (put(W3, "", shotcrete=None), "$.classes[2].mesh", "neither mesh nor shotcrete"),
        (
            put(D1, "pattern", bolts_per_row=18),
            "$.classes[0].pattern.bolts_per_row",
            "18 bolts on 9.916 m of rock stand 0.583 m apart",
        ),
        (
            put(D1, "limits.bolt_spacing", at_most_m="1.35"),
            "$.classes[0].limits.bolt_spacing.at_most_m",
            "this limit less",
        ),
        (
            put(D1, "limits.largest_gap", no_entry_above_m="2.2"),
            "$.classes[0].limits.largest_gap.no_entry_above_m",
            "one bolt missing opens a gap of 1.923 m; no entry starts 0.277 m later",
        ),
        (
            put(D1, "limits.plates_seated", at_most_gap_mm="15"),
            "$.classes[0].limits.plates_seated.at_most_gap_mm",
            "15 mm is judged by the step below it",
        ),
        (
            put_in("measuring", tape_m="0.1"),
            "$.classes[0].limits.bolt_spacing",
            "bolts taped 1.24 m apart would have to be taped again",
        ),
        (
            put_in("measuring", tape_m="0.07"),
            "$.classes[0].limits.row_spacing",
            "rows taped 0.9 m apart would have to be taped again",
        ),
        (
            put_in("measuring", assumed_m="0.2"),
            "$.classes[2].limits.largest_gap",
            "it is 1.839 m ± 0.464 m, which reaches past this limit",
        ),
        (
            put_in("measuring", assumed_m="0.2"),
            "$.classes[0].limits.lowest_bolt",
            "it is 1.5 m ± 0.328 m",
        ),
        (put_in(walk=None), "$.walk", "how often"),
        (put_in(severities=[]), "$.severities", "none is named"),
        (put_in(bolt_tests=[]), "$.bolt_tests", "how often RB24 is pulled"),
        (put_in("priorities", 0, due_days=10), "$.priorities", "10, 7, 30, 90 days"),
        (put_in("walk", every_days=30), "$.walk.every_days", "nothing is judged by it"),
        (
            put(D1, "limits", torqe={"at_least_nm": "200"}),
            "$.classes[0].limits.torqe",
            "nothing is judged by it",
        ),
    ],
)
def test_what_the_engineer_should_know_is_said(change: Change, path: str, reason: str) -> None:
    found = [fault.reason for fault in warnings(changed(change)) if fault.path == path]

    assert any(reason in told for told in found), found


def test_common_practice_alone_is_doubted_in_a_real_mine_only() -> None:
    def change(document: Any) -> None:
        document["walk"]["because"] = "common practice, no source"
        document["demo"] = False

    real = changed(change)

    assert [doubt.path for doubt in warnings(real)] == ["$.walk.because"]
    assert warnings(real.model_copy(update={"demo": True})) == ()


def test_rows_at_half_the_sheets_advance_hold_every_lap() -> None:
    # computed: sheets of 2.4 m lapped 0.3 m advance 2.1 m, rows at 1.05 m meet 9 of 9
    document = json.loads(DEMO)
    document["classes"][O2]["mesh"]["along_drive_m"] = "2.4"
    document["classes"][O2]["pattern"]["row_spacing_m"] = "1.05"
    met = read_model(json.dumps(document).encode(), Standard, source="it")

    assert not [fault for fault in warnings(met) if fault.path.endswith("along_drive_m")]


def test_more_thread_than_a_coarse_one_of_that_bar_has_is_to_be_known() -> None:
    """ISO 898-1: a coarse M20 thread has 245 mm² (from memory)."""
    found = warnings(changed(put(D1, "bolts.0", bar_mm="20", thread_area_mm2="260")))

    assert "$.classes[0].bolts[0].thread_area_mm2" in [it.path for it in found]
    assert not [it for it in warnings(changed(put(D1, "bolts.0", bar_mm="20")))
                if "coarse" in it.reason]  # fmt: skip
