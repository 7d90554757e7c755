"""A condition walk kept and listed from a terminal."""

import json
from pathlib import Path
from typing import Any

from fieldapp.work.demo.story import READY
from tests.unit.cli.conftest import Terminal, Told

TECHNICIAN = "Geotechnical technician"
SECTION = {
    "from_m": "130",
    "to_m": "140",
    "at": "2031-05-06T09:00:00Z",
    "answer": "nothing new",
    "in_full": ["floor"],  # drawn for this month
}


def record(
    lastrow: Terminal, home: Path, folder: Path, *sections: dict[str, Any], who: str = TECHNICIAN
) -> Told:
    body = {
        "heading": READY,
        "month": "2031-05",
        "began_at": "2031-05-06T08:30:00Z",
        "ended_at": "2031-05-06T09:30:00Z",
        "sections": list(sections),
    }
    file = folder / "walk.json"
    file.write_text(json.dumps(body))
    return lastrow("walk", "record", file, "--as", who, "--home", home)


def test_a_walk_is_kept_from_a_file_and_listed(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    next_one = {"from_m": "140", "to_m": "150", "in_full": []}
    water = {**next_one, "answer": "not reached", "not_reached": "water"}
    told = record(lastrow, home, tmp_path, SECTION, SECTION | water)
    again = record(lastrow, home, tmp_path, SECTION, who="Geotechnical engineer")
    listed = lastrow("walk", "list", READY, "--home", home).out

    kept = f"The walk of {READY} is kept: 2 sections, 0 with something new, 1 not reached."
    assert kept in told.out, told.err
    same = f"{TECHNICIAN} looked at 1 of these sections that day too: both stand."
    assert same in again.out
    assert listed.count("6 May 2031 08:30") == 2


def test_a_section_that_is_told_by_half_is_refused_by_its_path_or_kept_as_begun(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    bolts = {"answer": "something new", "parts": [{"part": "bolts", "zone": "back"}]}
    half = record(lastrow, home, tmp_path, SECTION | bolts)
    said = {"unanswered": ["Bolts: how grave?"]}
    begun = record(lastrow, home, tmp_path, SECTION | bolts | said)
    undrawn = record(lastrow, home, tmp_path, SECTION | {"in_full": []})

    assert min(half.code, undrawn.code) > 0
    assert "$.sections[0].in_full lacks floor, drawn for 2031-05" in undrawn.sentence
    assert "$.sections[0].parts[0] names bolts, back, with no severity" in half.sentence
    assert "1 with something new, 0 not reached, 1 begun only." in begun.out, begun.err
    due = lastrow("walk", "show", READY, "135", "--home", home).out
    assert "only begun on 6 May 2031: Bolts: how grave?" in due


def test_a_walk_that_says_what_cant_be_is_refused_and_nothing_is_kept(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    before = lastrow("walk", "list", READY, "--home", home).out
    beyond = record(lastrow, home, tmp_path, SECTION | {"from_m": "990", "to_m": "1000"})
    torn = record(lastrow, home, tmp_path, SECTION | {"to_m": None})
    nobody = record(lastrow, home, tmp_path, SECTION, who="Bolter, crew A")

    assert "lies beyond the face" in beyond.sentence
    assert "$.sections" in torn.err
    assert "may not walk a heading" in nobody.sentence
    assert min(beyond.code, torn.code, nobody.code) > 0
    assert lastrow("walk", "list", READY, "--home", home).out == before


def test_a_reading_that_is_a_slip_or_leaves_too_little_is_refused_with_what_to_do(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    """1.8 for 18.0; 80 % of a bar of 20 mm, by the demo's standard, are left at 17.9 mm."""
    bar = {"steel": "bar", "part": "bolts", "zone": "back", "chainage_m": "133", "how": "calliper"}
    slip = bar | {"original_mm": "20", "read_mm": "1.8", "u_mm": "0.05"}
    new = SECTION | {"answer": "something new"}
    slipped = record(lastrow, home, tmp_path, new | {"steel": [slip]})
    thin = record(lastrow, home, tmp_path, new | {"steel": [slip | {"read_twice": True}]})

    assert "1.8 mm read in" in slipped.sentence
    assert "less than half of new, 20 mm; read it again" in slipped.sentence
    assert "back: bar of 20 mm read 1.8 mm, less than must be left" in thin.sentence
    assert min(slipped.code, thin.code) > 0
