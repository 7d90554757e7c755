"""`lastrow target`: a page to print, refused in plain words where none can be written."""

from pathlib import Path

from tests.unit.cli.conftest import Terminal
from tests.unit.report.pages import flat, words_of


def test_the_page_says_how_large_it_is_and_how_to_hold_it(
    lastrow: Terminal, tmp_path: Path
) -> None:
    told = lastrow("target", tmp_path / "target.pdf")
    words = flat(words_of((tmp_path / "target.pdf").read_bytes()))

    assert told.code == 0
    assert flat("160 mm across, 220 mm along") in words
    assert flat("Stay under supported ground") in words


def test_it_is_a_page_and_nothing_else(lastrow: Terminal, tmp_path: Path) -> None:
    told = lastrow("target", tmp_path / "target.png")

    assert told.code == 2
    assert "a .pdf file" in told.err
