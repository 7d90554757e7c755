"""In another language a round sheet keeps no English but what a mine or a person wrote."""

import re
from collections.abc import Iterator
from datetime import UTC
from pathlib import Path

import pytest

from assets.translate import speak
from fieldapp.report.round_sheet.whole import round_sheet
from fieldapp.report.words.damage import repair_words
from fieldapp.work.rehab.words import MATERIALS, NO_PHOTO, PICKED, REFUSED
from tests.damages import repair
from tests.made_up_language import BRACKETS, in_brackets, outside_brackets
from tests.unit.report.pages import words_of
from tests.unit.report.round_sheet.test_whole import SHEETS

DATA = (
    "Wrenfall mine",
    "Wrenfall Decline",
    "1320 decline",
    r"S-2 revision 5|S-2(, [\d.]+)?",
    "Decline, bolts and sheets of welded mesh|Ore drive, tensioned bolts and chain-link mesh",
    r"A\. Supervisor",
    "crew A|B",
    "common practice, no source",
    r"[RP]B24",
    "[0-9A-Z]{4}(-[0-9A-Z]{1,4})+|[0-9a-f-]{6,}",
)
"""What the mine calls its things, and codes."""
JUDGED = ("spoilt", "half looked at", "staggered")
"""Sheets of rounds that the checks have judged; the others have words of their own."""
SIGNED = (r"\[?Does not meet S-2 revision 5.*?bond\.?", r"“I looked.*?”")
"""What was signed is printed as it was signed: in English."""
UNITS = ("m", "mm", "kN", "UTC", "N·m", "per m²")


@pytest.fixture(autouse=True)
def brackets(tmp_path: Path) -> Iterator[None]:
    speak(BRACKETS, in_brackets(tmp_path))
    yield
    speak("en")


@pytest.mark.parametrize("name", JUDGED)
def test_a_round_sheet_is_translated(name: str) -> None:
    words = " ".join(words_of(round_sheet(SHEETS[name])).split())

    for known in SIGNED:
        words = re.sub(known, "", words, flags=re.IGNORECASE)
    left = outside_brackets(words)
    for known in (*DATA, *UNITS):
        left = re.sub(rf"(?<!\w)(?:{known})(?!\w)", "", left)
    assert re.findall(r"[^\W\d_]{2,}", left) == []


@pytest.mark.parametrize("state", ["refused", "reopened"])
def test_what_is_picked_about_a_repair_is_kept_in_english_and_shown_translated(state: str) -> None:
    said = repair(
        state=state,
        refused_because=REFUSED[0],
        materials=MATERIALS[:1],
        no_photo_because=NO_PHOTO[0],
        bolts_added=4,
        lap_openings=3,
        barricade={"who": "B", "where": "585 m", "at_m": "585"},
    )
    told = ", ".join(repair_words(said, "metres", UTC))

    assert "a plate is loose" in told
    assert re.findall(r"[^\W\d_]{2,}", outside_brackets(told)) == []
    assert not any("[" in it for it in PICKED)
