"""What is due on walks, and what is known of a section, from a terminal."""

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from fieldapp.start import open_site
from fieldapp.work.demo.story import CUDDY, READY
from fieldapp.work.demo.walking import StoryClock
from tests.demo_mine import PRESENT
from tests.unit.cli.conftest import Terminal
from tests.unit.work.conftest import Shift
from tests.unit.work.walk.test_section_corrosion import wire
from tests.walks import SUPERVISOR, section, walk

RUSTY: dict[str, Any] = {
    "answer": "something new",
    "parts": [{"part": "mesh", "zone": "left shoulder", "corrosion_grade": 3, "severity": "S2"}],
    "zones": [{"zone": "left shoulder", "water": "dripping"}],
    "note": "drips since the last walk",
}


@pytest.fixture
def walked(home: Path) -> Path:
    """A home in which some of a drive was walked, one section by two people on one day."""
    clock = StoryClock(PRESENT)
    site = open_site(home, now=clock)
    with site.store:
        shift = Shift(home, clock, site)
        early = PRESENT - timedelta(days=40)
        walk(shift, READY, section(130, 140), section(140, 150), at=early)
        walk(shift, READY, section(130, 140, **RUSTY))
        walk(shift, READY, section(130, 140), who=SUPERVISOR)
        walk(shift, READY, section(150, 160, answer="not reached", not_reached="water"))
    return home


def test_the_plan_says_what_is_due_the_late_ones_first_and_what_is_looked_at(
    lastrow: Terminal, walked: Path
) -> None:
    told = lastrow("walk", "plan", READY, "--home", walked)
    lines = told.out.splitlines()

    assert told.code == 0, told.err
    assert lines[0] == f"{READY}, 2031-05: 31 of 31 sections, 1 late"
    assert lines[1].startswith("Nobody beyond ")
    assert lines[4].startswith("140.0 – 150.0 m  10 days late")
    assert "last looked at on 27 Mar 2031; every 30 days" in lines[4]
    assert "never looked at; not reached on 6 May 2031: water" in told.out
    assert "D1, back: look at 57 of 1011 bolts; none found would mean at most 5 % bad" in told.out
    assert "m: a row as the pattern has it, bolt " in told.out


def test_where_none_is_more_urgent_the_plan_says_in_which_order_it_stands(
    lastrow: Terminal, home: Path
) -> None:
    told = lastrow("walk", "plan", READY, "--home", home)

    assert "none is more urgent than another: from the portal inbye" in told.out.splitlines()[0]


def test_without_a_heading_the_plan_says_it_of_all_in_short(
    lastrow: Terminal, walked: Path
) -> None:
    told = lastrow("walk", "plan", "--home", walked)

    assert told.code == 0, told.err
    assert "4130 Cuddy 2      4 of 4 sections" in told.out
    assert "140.0 – 150.0 m: last looked at on 27 Mar 2031" in told.out


def test_a_plan_as_json_says_the_same_for_programs(lastrow: Terminal, walked: Path) -> None:
    (found,) = lastrow("walk", "plan", READY, "--json", "--home", walked).json
    first = found["sections"][0]

    assert (found["heading"], found["month"], found["there"]) == (READY, "2031-05", 31)
    assert (first["from_m"], first["late_days"], first["at_once"]) == ("140", 10, False)
    assert first["last"]["seen"]["answer"] == "nothing new"
    assert len(found["looked_at"][0]["drawn"]) == 57
    assert found["looked_at"][0]["iso_2859_1"] == {"looks": 80, "lets_pass": 5}


def test_a_section_shows_every_look_its_rust_and_both_standards(
    lastrow: Terminal, walked: Path
) -> None:
    told = lastrow("walk", "show", READY, "133.4", "--home", walked)

    assert told.code == 0, told.err
    assert told.out.startswith(f"{READY}, 130.0 – 140.0 m\n")
    for line in (
        "20 May 2031: last looked at on 6 May 2031; every 14 days: rust of grade 3",
        "mesh, left shoulder: rust 3, dripping, age not known, 6 May 2031",
        "6 May 2031, Day supervisor: nothing new (two looks on one day)",
        "6 May 2031, Geotechnical technician: something new (two looks on one day)",
        "mesh, left shoulder: S2, rust 3",
        "drips since the last walk",
        "27 Mar 2031, Geotechnical technician: nothing new",
        "0.0 – 298.6 m: not known, supported before the record began",
    ):
        assert f"  {line}\n" in told.out


def test_ground_with_a_record_is_judged_by_both_standards(lastrow: Terminal, home: Path) -> None:
    told = lastrow("walk", "show", READY, "301", "--home", home)

    assert "298.6 – 303.2 m: round 64" in told.out
    assert "when it was put up: S-2 revision 5: accept" in told.out
    assert "in force now: S-2 revision 5: accept" in told.out


def test_a_section_as_json(lastrow: Terminal, walked: Path) -> None:
    found = lastrow("walk", "show", READY, "133.4", "--json", "--home", walked).json

    assert (found["from_m"], found["to_m"], found["due_on"]) == ("130", "140", "2031-05-20")
    assert [it["two_on_this_day"] for it in found["looks"]] == [True, True, False]
    assert found["grades"][0]["water"] == "dripping"
    assert found["standards"] == [
        {
            "from_m": "0",
            "to_m": "298.60",
            "round": None,
            "when_put_up": None,
            "in_force_now": None,
            "falls_short_now": False,
            "over_old": False,
        }
    ]


def test_a_section_says_how_fast_its_steel_goes_with_iso_9223_beside_it(
    lastrow: Terminal, home: Path
) -> None:
    """1 mm off the diameter in 730.5 days: 250 µm a year off each side; ± 1.96·√2·10/2 µm."""
    clock = StoryClock(PRESENT)
    site = open_site(home, now=clock)
    with site.store:
        shift, ago = Shift(home, clock, site), timedelta(days=730.5)
        walk(shift, READY, section(130, 140, steel=[wire("5.5")]), at=PRESENT - ago)
        walk(shift, READY, section(130, 140, steel=[wire("4.5")]))
    told = lastrow("walk", "show", READY, "133.4", "--home", home)
    (steel,) = lastrow("walk", "show", READY, "133.4", "--json", "--home", home).json["steel"]

    assert "loses 250 µm a year on each surface (236.1 to 263.9, 95 %; 2 readings)" in told.out
    assert "ISO 9223 CX in a first year, 200 to 700" in told.out
    assert "tells of bare metal in its first year of open air" in told.out
    assert steel["rate"] == {
        "rate_um_per_year": "250.0",
        "rate_from_um_per_year": "236.1",
        "rate_to_um_per_year": "263.9",
        "readings": 2,
        "iso_9223_first_year": "CX",
    }


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("plan", "Nowhere"), "No heading is called Nowhere."),
        (("plan", CUDDY, "--month", "31-5"), "31-5 is no month."),
        (
            ("show", CUDDY, "400"),
            f"No ground of {CUDDY} is supported at 400 m, as far as is recorded.",
        ),
        (("show", CUDDY, "here"), "“here” can't be the chainage."),
    ],
)
def test_what_can_t_be_shown_is_refused_in_plain_words(
    lastrow: Terminal, home: Path, words: tuple[str, ...], sentence: str
) -> None:
    told = lastrow("walk", *words, "--home", home)

    assert (told.code, told.sentence) == (2, sentence)
