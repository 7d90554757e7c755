"""Each way in which a standard contradicts itself is refused by its place and its reason."""

import json
from decimal import Decimal
from typing import Any

import pytest

from fieldapp.assess.standard_check import proposed_gap_limits, refusals, warnings
from tests.standards import D1, DEMO, O2, W3, Change, changed, put, put_in


def test_the_demo_standard_is_sound_and_leaves_nothing_to_say() -> None:
    demo = changed(lambda document: document)

    assert refusals(demo) == ()
    assert warnings(demo) == ()


REFUSED: list[tuple[Change, str, str]] = [
    # the profile
    (put(D1, "profile", rise_m="2.6"), "profile.rise_m", "more than half the width, 2.5 m"),
    (put(D1, "profile", rise_m="0"), "profile.rise_m", "a flat back"),
    (put(D1, "profile", shape="flat"), "profile.rise_m", "a flat back has no rise"),
    (
        put(D1, "profile", supported_from_m="3.2"),
        "profile.supported_from_m",
        "support would begin 3.2 m up walls 3 m high",
    ),
    (put(D1, "profile", back_half_m="0"), "profile.back_half_m", "no width"),
    # half the arch of W 5.0, rise 2.0 is 3.458 m: arc 6.916 m, from memory, geometry
    (put(D1, "profile", back_half_m="3.5"), "profile.back_half_m", "past 3.458 m"),
    # the pattern
    (
        put(D1, "pattern", bolt_spacing_tolerance_m="0.65"),
        "pattern.bolt_spacing_tolerance_m",
        "0.65 m is no tolerance on 1.3 m",
    ),
    (
        put(D1, "pattern", row_spacing_tolerance_m="0.5"),
        "pattern.row_spacing_tolerance_m",
        "0.5 m is no tolerance on 0.9 m",
    ),
    (put(D1, "pattern", bolt_spacing_m="0.13"), "pattern.bolt_spacing_m", "no spacing of bolts"),
    (put(D1, "pattern", row_spacing_m="9"), "pattern.row_spacing_m", "no spacing of bolts"),
    # 9.916 m of rock: 8 bolts stand 1.417 m apart, and 9.916/1.4 rounded up, plus 1, is 9
    (
        put(D1, "pattern", bolts_per_row=8),
        "pattern.bolts_per_row",
        "8 bolts on 9.916 m of rock stand 1.417 m apart, more than 1.4 m; 9 are needed",
    ),
    (put(O2, "pattern", bolts_per_row=2), "pattern.bolts_per_row", "an offset row"),
    (
        put(D1, "", profile={**json.loads(DEMO)["classes"][D1]["profile"], "width_m": "0.2",
            "wall_height_m": "1.6", "rise_m": "0.1", "back_half_m": "0.05"}),
        "pattern.bolt_spacing_m",
        "don't fit",
    ),
    # gap limits: s 1.4, b 1.0 at full tolerance is √(1.96 + 1.0) = 1.720; one bolt missing,
    # with the 9 bolts 1.240 m apart, 1.240 + 0.81/1.240 = 1.893
    (
        put(D1, "limits.largest_gap", at_most_m="1.719"),
        "limits.largest_gap.at_most_m",
        "gaps of 1.72 m at full tolerance",
    ),
    (
        put(D1, "limits.largest_gap", at_most_m="1.893"),
        "limits.largest_gap.at_most_m",
        "one bolt missing opens a gap of 1.893 m",
    ),
    # staggered, s 1.5, b 1.3 at full tolerance: 1.3 + 2.25/5.2 = 1.733
    (
        put(O2, "limits.largest_gap", at_most_m="1.73"),
        "limits.largest_gap.at_most_m",
        "gaps of 1.733 m at full tolerance",
    ),
    (
        put(D1, "limits.largest_gap", no_entry_above_m="1.73"),
        "limits.largest_gap.no_entry_above_m",
        "“no entry” must start above the limit itself, 1.73 m",
    ),
    # limits that a perfect round breaks, or that contradict the pattern
    (
        put(D1, "limits.bolt_spacing", at_most_m="1.2"),
        "limits.bolt_spacing.at_most_m",
        "the pattern's own spacing, 1.3 m, would break it",
    ),
    (
        put(D1, "limits.bolt_spacing", at_most_m="1.6"),
        "limits.bolt_spacing.at_most_m",
        "1.4 m at full tolerance, this limit more",
    ),
    (
        put(D1, "limits.row_spacing", at_most_m="1.1"),
        "limits.row_spacing.at_most_m",
        "1 m at full tolerance, this limit more",
    ),
    (
        put(D1, "limits.row_spacing", at_most_m="0.8"),
        "limits.row_spacing.at_most_m",
        "the pattern's own spacing, 0.9 m, would break it",
    ),
    (
        put(D1, "limits.lowest_bolt", at_most_m="1.4"),
        "limits.lowest_bolt.at_most_m",
        "belong 1.5 m above the floor",
    ),
    (
        put(D1, "limits.density", at_least_per_m2="0.9"),
        "limits.density.at_least_per_m2",
        "the pattern has 0.896 bolts per m²",
    ),
    (
        put(D1, "limits.last_row_to_face", at_most_m="0"),
        "limits.last_row_to_face.at_most_m",
        "a limit of 0 m",
    ),
    (
        put(D1, "limits.last_row_to_face", no_entry_above_m="0.9"),
        "limits.last_row_to_face.no_entry_above_m",
        "must start above the limit itself, 1 m",
    ),
    (
        put(D1, "limits.mesh_lap", no_entry_below_mm="300"),
        "limits.mesh_lap.no_entry_below_mm",
        "must start below the limit itself, 300 mm",
    ),
    (
        put(O2, "limits.torque", at_least_nm="340"),
        "limits.torque.at_most_nm",
        "no torque lies in a window of 340 to 330 N·m",
    ),
    # what a breach may mean
    *(
        (
            put(D1, f"limits.{check}", breach="fix this shift"),
            f"limits.{check}.breach",
            "can't be left",
        )
        for check in (
            "bolts_present",
            "neighbouring_bolts",
            "largest_gap",
            "last_row_to_face",
            "bolt_spacing",
            "row_spacing",
            "old_rows",
            "misfires_and_butts",
            "mesh_bagging",
        )
    ),
    (
        put(D1, "limits.neighbouring_bolts", breach="rework"),
        "limits.neighbouring_bolts.breach",
        "always “no entry”",
    ),
    # ground
    (
        put(D1, "limits.ground_condition", triggers=[]),
        "limits.ground_condition.triggers",
        "nobody is named to call when the ground is “wetter”",
    ),
    (
        put(D1, "limits.ground_condition.triggers.1", condition="wetter"),
        "limits.ground_condition.triggers[1].condition",
        "“wetter” stands there twice",
    ),
    (
        put(D1, "limits.ground_condition.triggers.0", after_the_call="no entry"),
        "limits.ground_condition.triggers[0].after_the_call",
        "“no entry” is graver than “rework”",
    ),
    # curing
    (put(O2, "limits", curing=None), "limits.curing", "point-anchored bolt, 20 mm has to"),
    (
        put(D1, "limits", curing={"because": "S-2, 9", "breach": "rework"}),
        "limits.curing",
        "nothing in this class has to cure",
    ),
    (
        put(W3, "bolts.0.curing", strength_mpa="20"),
        "bolts[0].curing.strength_mpa",
        "no reading of the strength of grout",
    ),
    # mesh and shotcrete
    *(
        (put(D1, "limits", **{check: None}), f"limits.{check}", "this class has mesh")
        for check in ("mesh_lap", "lap_held", "mesh_reach", "mesh_holes", "mesh_bagging")
    ),
    (put(D1, "", mesh=None), "limits.mesh_lap", "this class has no mesh to look at"),
    # figures from different rigs are never compared
    (
        put(D1, "limits.mesh_panel", rig="a weight of 1 t dropped on it"),
        "limits.mesh_panel.rig",
        "two rigs are never compared",
    ),
    (put(D1, "mesh", panel_rig=None), "mesh.panel_rig", "says nothing without the rig"),
    (put(D1, "mesh", panel_because=None), "mesh.panel_because", "no because"),
    (put(D1, "mesh", panel_kn=None), "mesh.panel_kn", "a limit compares with it"),
    # 1.3 × 0.9 m of 1.5 m at 27 kN/m³ are 47.4 kN (computed)
    (
        put(D1, "limits.mesh_panel", loosened_m="1.5"),
        "limits.mesh_panel.loosened_m",
        "a bay of the perfect pattern may hold 47.4 kN of broken rock, and its mesh 40 kN",
    ),
    (put(D1, "mesh", wire_mm="100"), "mesh.wire_mm", "leaves no opening at 100 mm"),
    (
        put(D1, "limits.mesh_lap", at_least_mm="2400", at_least_openings=20),
        "limits.mesh_lap.at_least_mm",
        "a lap of 2.4 m is no smaller than the sheet, 2.4 m",
    ),
    (
        put(D1, "mesh", along_drive_m="0.3"),
        "limits.mesh_lap.at_least_openings",
        "a lap of 0.3 m is no smaller than the sheet, 0.3 m",
    ),
    (
        put(D1, "limits", shotcrete_thickness={"because": "S-2, 6", "breach": "rework",
            "guard_factor": "0", "at_least_mm": "50"}),
        "limits.shotcrete_thickness",
        "no shotcrete to measure",
    ),
    (
        put(W3, "limits", shotcrete_thickness=None),
        "limits.shotcrete_thickness",
        "this class has shotcrete",
    ),
    (
        put(W3, "limits.shotcrete_thickness", at_least_mm="80"),
        "limits.shotcrete_thickness.at_least_mm",
        "sprays 75 mm",
    ),
    (
        put(W3, "shotcrete.curing", strength_mpa="35"),
        "shotcrete.curing.strength_mpa",
        "35 MPa is more than the 30 MPa",
    ),
    # bolts and what they carry
    (put(D1, "bolts.0", zones=["back"]), "bolts", "no kind of bolt is named for the left wall"),
    (
        put(O2, "bolts.0", anchored_with_loose_plate=True),
        "bolts[0].anchored_with_loose_plate",
        "a point-anchored bolt with a loose plate holds nothing",
    ),
    (put(D1, "bolts.0", plate_mm="0"), "bolts[0].plate_mm", "without a plate"),
    (
        put(D1, "bolts.0", length_m="1.0"),
        "bolts[0].length_m",
        "a bolt of 1 m ends in rock that is taken to be loose to 1.5 m",
    ),
]  # fmt: skip


@pytest.mark.parametrize(("change", "path", "reason"), REFUSED, ids=lambda case: str(case)[:60])
def test_a_class_that_contradicts_itself_is_refused(
    change: Change, path: str, reason: str
) -> None:
    found = refusals(changed(change))
    places = [f"$.classes[{index}].{path}" for index in (D1, O2, W3)]

    assert [fault for fault in found if fault.path in places and reason in fault.reason], found


def test_two_kinds_of_bolt_with_one_code_are_refused() -> None:
    def change(document: Any) -> None:
        bolts = document["classes"][D1]["bolts"]
        bolts.append(dict(bolts[0]))

    assert any(fault.path == "$.classes[0].bolts[1].code" for fault in refusals(changed(change)))


@pytest.mark.parametrize(
    ("change", "path", "reason"),
    [
        (put_in(effective_from="1925-02-01T00:00:00Z"), "$.effective_from", "the year 1925"),
        (put_in("measuring", tape_m="0"), "$.measuring.tape_m", "no reading is without"),
        (put_in("deviations", at_most_h="25"), "$.deviations.at_most_h", "not 25 h"),
        (put_in("deviations", at_most_h="0"), "$.deviations.at_most_h", "not 0 h"),
        (put_in("events", 1, what="fired"), "$.events", "nothing says what “seismic” withdraws"),
        (put_in("events", 1, what="fired"), "$.events[1].what", "“fired” stands there twice"),
        (put_in("events", 0, radius_m="0"), "$.events[0].radius_m", "to nothing"),
        (
            put_in("bolt_tests", 0, bolt_type="XB"),
            "$.bolt_tests[0].bolt_type",
            "no class has a bolt XB",
        ),
        # 245 mm² at 500 MPa carries 122.5 kN
        (put_in("bolt_tests", 0, proof_kn="122.5"), "$.bolt_tests[0].proof_kn", "122.5 kN"),
        (put_in("severities", 1, code="S0"), "$.severities[1].code", "S0 stands there twice"),
        (put_in("priorities", 1, code="P1"), "$.priorities[1].code", "P1 stands there twice"),
        (put_in("walk", because="   "), "$.walk.because", "it is empty"),
        (
            put(O2, "bolts.0", code="RB24"),
            "$.classes[1].bolts[0].code",
            "a 2.4 m point-anchored bolt here and a 2.4 m grouted bar in D1",
        ),
        (
            put(O2, "limits.bolt_angle", because=" - "),
            "$.classes[1].limits.bolt_angle.because",
            "it is empty",
        ),
    ],
)
def test_a_standard_that_contradicts_itself_is_refused(
    change: Change, path: str, reason: str
) -> None:
    found = [fault.reason for fault in refusals(changed(change)) if fault.path == path]

    assert any(reason in told for told in found), found


@pytest.mark.parametrize(
    ("index", "rework", "no_entry"),
    [
        # √(1.4² + 1.0²) = 1.7205; 1.3 + 0.9²/1.3 + 0.15 = 2.0731
        (D1, "1.73", "2.07"),
        # 1.3 + 1.5²/(4·1.3) = 1.7327; hexagon of six bolts 2.7785 + 0.15
        (O2, "1.74", "2.92"),
        # √(1.5² + 1.3²) = 1.9849; 1.4 + 1.2²/1.4 + 0.15 = 2.5786
        (W3, "1.99", "2.57"),
    ],
)
def test_proposed_gap_limits_fit_the_pattern(index: int, rework: str, no_entry: str) -> None:
    proposed = proposed_gap_limits(changed(lambda document: document).classes[index])

    assert (proposed.rework_above_m, proposed.no_entry_above_m) == (
        Decimal(rework),
        Decimal(no_entry),
    )


def test_a_cable_of_high_tensile_strand_can_be_stated() -> None:
    # strand of 1 860 MPa, nominal tensile strength (prEN 10138-3, from memory)
    cable = put(W3, "bolts.0", kind="cable", steel_mpa="1860", thread_area_mm2="150")

    assert refusals(changed(cable)) == ()
