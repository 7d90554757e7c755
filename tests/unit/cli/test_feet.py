"""A mine that reads feet and inches is told and printed no metre from a terminal."""

import re
from pathlib import Path

import pytest
from pypdf import PdfReader

from fieldapp.report.words.lengths import FEET
from fieldapp.start import SETTINGS_FILE, write_settings
from schemas.settings import Settings
from tests.unit.cli.conftest import Terminal

METRIC = re.compile(r"\d[ \u00a0](?:m|mm|metres|millimetres)\b")
DECLINE = "Wrenfall Decline"


@pytest.fixture
def in_feet(home: Path) -> Path:
    """The home of a demo mine whose settings say feet and inches."""
    write_settings(home / SETTINGS_FILE, Settings(units=FEET))
    return home


def test_the_board_is_in_feet(lastrow: Terminal, in_feet: Path) -> None:
    told = lastrow("board", "--home", in_feet).out

    assert METRIC.findall(told) == []
    assert re.search(r"to \d( \d{3})? ft \d+ in", told)


def test_the_handover_is_in_feet_on_the_terminal_and_on_its_page(
    lastrow: Terminal, in_feet: Path
) -> None:
    told = lastrow("handover", DECLINE, "--home", in_feet).out
    *_, page = told.splitlines()

    assert METRIC.findall(told) == []
    assert " feet " in told
    assert METRIC.findall(words_of(page)) == []


def test_the_round_sheet_is_in_feet(lastrow: Terminal, in_feet: Path) -> None:
    words = words_of(lastrow("sheet", f"{DECLINE} 412", "--home", in_feet).out.strip())

    assert METRIC.findall(words) == []
    assert " ft " in words.replace("\u00a0", " ")


def words_of(pdf: str) -> str:
    return PdfReader(pdf).pages[0].extract_text()
