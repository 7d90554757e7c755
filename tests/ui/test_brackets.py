"""In another language nothing that is shown stays English but what a mine or a person wrote."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.made_up_language import outside_brackets
from tests.ui.brackets import SHOWN

pytestmark = pytest.mark.window

DATA = (
    r"\d{4} [A-Z][\w ]+",  # names of headings
    r"Wrenfall Decline",
    r"DEMO · Wrenfall",
    r"Day supervisor",
    r"day shift",  # the mine's own name of its shift
    r"RB24(-0731)?",  # bolts and batches
    r"crew [ABC]",
    r"S-2[^\[]*",  # the standard, its classes and clauses
    r"D1",
    r"Bolter, crew A",
)
"""What the mine calls its things."""
SIGNED = (r"(Does not meet|Meets) S-2 revision 5.*", r"I looked, from supported ground.*")
"""What a person signs is shown as it is signed: in English."""
UNITS = (r"m", r"mm", r"in", r"ft", r"kN", r"N·m", r"°")
WORDS = re.compile(r"[^\W\d_]{2,}")


def shown(folder: Path) -> dict[str, list[str]]:
    told = subprocess.run(  # noqa: S603
        [sys.executable, "-m", "tests.ui.brackets", str(folder)],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "KIVY_NO_ARGS": "1"},
    )
    assert told.returncode == 0, told.stderr
    texts: dict[str, list[str]] = json.loads((folder / SHOWN).read_text("utf-8"))
    return texts


def english_in(text: str) -> str:
    left = outside_brackets(text)
    for known in SIGNED:
        left = re.sub(rf"^{known}$", "", left)
    for known in (*DATA, *UNITS):
        left = re.sub(rf"(?<!\w){known}(?!\w)", "", left)
    return left if WORDS.search(left) else ""


def test_everything_shown_on_board_round_and_review_is_translated(tmp_path: Path) -> None:
    screens = shown(tmp_path)

    assert all(any("[" in text for text in texts) for texts in screens.values())
    english = {text for texts in screens.values() for text in texts if english_in(text)}
    assert english == set()


@pytest.mark.parametrize("text", ["Round 65 · [D1]", "[Row 2]: how far", "m, tape"])
def test_a_text_that_stays_english_is_found(text: str) -> None:
    assert english_in(text)
