"""A class says what its support must carry, and its perfect pattern carries it, or is refused."""

from typing import Any

import pytest

from fieldapp.assess.standard_check import refusals, warnings
from fieldapp.assess.standard_words import class_in_words
from tests.standards import D1, O2, Change, changed, put, put_in

STATED: dict[str, Any] = {"loosened_m": "1.5", "because": "S-2, 3.2"}
THROWN: dict[str, Any] = {
    "ejected_m": "0.4",
    "velocity_m_per_s": "2",
    "yield_travel_m": "0.1",
    "because": "S-2, 3.6",
}
RATING = {"rqd_percent": "90", "jn": "4", "jr": "3", "ja": "1", "jw": "1", "srf": "15"}


def energy(energy_kj: str, *, yields: bool = True, **energy: object) -> Change:
    """Let the back of D1 demand energy of a bolt that takes up so much."""

    def change(document: Any) -> None:
        decline = document["classes"][D1]
        decline["bolts"][0] |= {"energy_kj": energy_kj, "yields": yields}
        decline["demand"]["energy"] = {"because": "S-2, 3.6", **energy}

    return change


REFUSED: list[tuple[Change, str, str]] = [
    # 120 kN over 1.4 × 1.0 m is 85.7 kPa, over 1.3 × 0.9 m 102.6 kPa; twice 42.9 is 85.8 kPa
    (
        put(D1, "", demand={**STATED, "pressure_kpa": "42.9"}),
        "demand.pressure_kpa",
        "at full tolerance resin-grouted bar, 20 mm carries 85.7 kPa, 85.8 kPa are demanded",
    ),
    (
        put(D1, "", demand={**STATED, "pressure_kpa": "51.4"}),
        "demand.pressure_kpa",
        "a perfect pattern of resin-grouted bar, 20 mm carries 102.6 kPa, 102.8 kPa are demanded",
    ),
    # friction bolts of 24.5 kN/m, 0.9 m beyond 1.5 m of loose rock: 22.05 kN over 1.17 m²
    (
        put(D1, "bolts.0", bond_kn_per_m="24.5"),
        "demand.loosened_m",
        "carries 18.8 kPa, 82.4 kPa are demanded, 2 × 41.2; the bond gives way first",
    ),
    # an anchor of 0.6 m of resin at 100 kN/m: 60 kN over 1.4 × 1.2 m, against twice 27 kPa
    (
        put(O2, "bolts.0", bond_kn_per_m="100"),
        "demand.pressure_by",
        "carries 35.7 kPa, 54.1 kPa are demanded, 2 × 27; the bond gives way first",
    ),
    (
        put(D1, "demand.walls", pressure_kpa="50"),
        "demand.walls.pressure_kpa",
        "85.7 kPa, 100 kPa are demanded",
    ),
    # what is demanded must be told, once
    (put(D1, "", demand=None), "demand", "nothing says what the support must carry"),
    (put(D1, "", demand=STATED), "demand.pressure_kpa", "neither a pressure nor energy"),
    (put(D1, "demand", pressure_kpa="40"), "demand.pressure_kpa", "one of both"),
    (put(D1, "", rock=None), "rock", "reckoned from rock that nobody states"),
    (put(O2, "rock", rating=None), "rock.rating", "reckoned from its ratings"),
    (put(D1, "demand", loosened_m="0"), "demand.loosened_m", "none would be carried"),
    (put(D1, "demand.walls", loosened_m="2.4"), "bolts[0].length_m", "loose to 2.4 m"),
    # a unit weight of 28 kN/m³ written for a density would make every demand a hundredth
    (put(D1, "rock", density_kg_per_m3="28"), "rock.density_kg_per_m3", "28 kN/m³ is 2854 kg/m³"),
    (
        put(D1, "limits.mesh_panel", rock_kn_per_m3="2.7"),
        "limits.mesh_panel.rock_kn_per_m3",
        "water",
    ),
    # energy: 12 kJ over 1.4 × 1.0 m is 8.6 kJ/m²; twice 4.3 is 8.6, twice 4.4 is 8.8
    (energy("12", energy_kj_per_m2="4.4"), "demand.energy", "takes up 8.6 kJ/m², 8.8 kJ/m²"),
    (
        put(D1, "demand", energy={"energy_kj_per_m2": "5", "because": "S-2, 3.6"}),
        "bolts[0].energy_kj",
        "no kind of bolt of the back states its energy, 10 kJ/m² are demanded",
    ),
    (energy("12", energy_kj_per_m2="1", ejected_m="1"), "demand.energy.energy_kj_per_m2", "both"),
    (energy("12", ejected_m="1"), "demand.energy.velocity_m_per_s", "can't be reckoned"),
]


@pytest.mark.parametrize(("change", "path", "reason"), REFUSED, ids=lambda case: str(case)[:60])
def test_a_demand_that_is_not_carried_or_not_told_is_refused(
    change: Change, path: str, reason: str
) -> None:
    found = refusals(changed(change))
    places = [f"$.classes[{index}].{path}" for index in (D1, O2)]

    assert [fault for fault in found if fault.path in places and reason in fault.reason], found


def test_a_pattern_that_carries_its_demand_at_full_tolerance_is_sound() -> None:
    at_its_widest = put(D1, "", demand={**STATED, "pressure_kpa": "42.8"})

    assert refusals(changed(at_its_widest)) == ()
    assert refusals(changed(energy("12", energy_kj_per_m2="4.3"))) == ()
    assert refusals(changed(energy("12", **THROWN))) == ()


def test_a_standard_that_judges_load_says_what_rust_leaves() -> None:
    silent = changed(put_in("corrosion", "grades", 2, share_left=None))
    rising = changed(put_in("corrosion", "grades", 3, share_left="0.97"))

    assert [it.path for it in refusals(silent)] == ["$.corrosion.grades[2].share_left"]
    assert [it.path for it in refusals(rising)] == ["$.corrosion.grades[3].share_left"]


def test_a_demand_by_which_no_round_is_judged_is_told() -> None:
    unjudged = changed(put(D1, "limits", load=None))

    assert [it.path for it in warnings(unjudged)] == ["$.classes[0].limits.load"]


def test_the_engineer_reads_the_demand_the_pattern_and_the_rules_of_thumb() -> None:
    # Hoek's example: Q 4.5, 26.4 kPa by 1974, 40.4 by 200/Jr; 15 m wide, ESR 1.6: 3.41 m
    def chamber(document: Any) -> None:
        wide = document["classes"][2]
        wide["profile"] |= {"width_m": "15.0", "rise_m": "4.0"}
        wide["rock"] |= {"rating": RATING, "esr": "1.6"}

    said = [
        line.demanded
        for section in class_in_words(changed(chamber).classes[2])
        if section.title in ("Load", "Rules of thumb, to compare")
        for line in section.lines
    ]

    assert "The back must be carried: 54.9 kPa, with 2 m of rock loosened." in said
    assert any("LB50 in the back carries 220 kN, the plate gives way first" in it for it in said)
    assert any("Q is 4.5. Barton: 26.4 kPa by 1974 with Jn, 40.4 by 200/Jr" in it for it in said)
    assert any("up to 5.84 m stand unsupported; bolts of 3.41 m" in it for it in said)
    assert any(it.startswith("USACE EM 1110-1-2907: bolts at least") for it in said)


def test_energy_is_told_of_each_kind_of_bolt_alone() -> None:
    said = [
        line.demanded
        for section in class_in_words(changed(energy("12", yields=False, **THROWN)).classes[D1])
        if section.title == "Load"
        for line in section.lines
    ]

    # ½·2800·0.4·2² + 2800·9.81·0.4·0.1 J/m²
    assert "The back must be carried when rock is thrown out: 3.3 kJ/m²." in said
    assert "RB24, stiff, takes up 8.6 kJ/m² in the back at full tolerance, alone." in said
