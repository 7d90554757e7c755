"""Trends in a terminal: what is followed, and what each point stands on."""

from pathlib import Path

from fieldapp.work.demo.story import MAIN
from tests.unit.cli.conftest import Terminal


def test_everything_that_is_followed_is_listed_with_its_course(
    lastrow: Terminal, home: Path
) -> None:
    told = lastrow("trends", "--home", home)

    assert told.code == 0
    assert "Last row to face (last-row-to-face), m" in told.out
    assert "Repairs overdue (overdue), at month's end\n  nothing is recorded of it" in told.out
    assert "lets nobody into a heading" in told.out


def test_a_point_names_what_it_stands_on(lastrow: Terminal, home: Path) -> None:
    told = lastrow("trends", "Largest-Gap", "--by", "heading", "--heading", MAIN, "--home", home)

    assert f"{MAIN}: " in told.out
    assert f"{MAIN}, round " in told.out


def test_an_unknown_name_is_answered_with_those_there_are(lastrow: Terminal, home: Path) -> None:
    told = lastrow("trends", "bolts", "--home", home)

    assert told.code == 2
    assert told.sentence == "Nothing is followed as bolts."
    assert "largest-gap" in told.err
