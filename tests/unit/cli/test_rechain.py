"""Giving a heading the chainages of a re-survey, from a terminal."""

from pathlib import Path

from fieldapp.work.demo.story import READY
from tests.demo_mine import CODES
from tests.unit.cli.conftest import Terminal, Told

ENGINEER, DAY = "Geotechnical engineer", "Day supervisor"


def rechain(
    lastrow: Terminal, home: Path, from_m: str, by_m: str, who: str = ENGINEER, code: str = ""
) -> Told:
    words = ("--from-m", from_m, "--by-m", by_m, "--as", who, "--home", home)
    return lastrow("heading", "rechain", READY, *words, typed=f"{code or CODES[who]}\n")


def row(lastrow: Terminal, home: Path) -> str:
    lines = lastrow("board", "--home", home).out.splitlines()
    return next(it for it in lines if READY in it)


def test_an_engineer_gives_a_heading_new_chainages(lastrow: Terminal, home: Path) -> None:
    assert "to 301.3 m" in row(lastrow, home)
    told = rechain(lastrow, home, "298.60", "1.4")

    assert told.code == 0, told.err
    assert "4155 Main: 298.60 m will be 300.00 m.\n" in told.out
    assert "Entry line: 301.38 m, then 302.78 m.\n" in told.out
    assert "1 round" in told.out.partition("Moves: ")[2]
    assert "to 302.7 m" in row(lastrow, home)


def test_without_the_sign_code_it_is_told_and_nothing_is_stated(
    lastrow: Terminal, home: Path
) -> None:
    told = rechain(lastrow, home, "298.60", "1.4", code="0000")

    assert told.code != 0
    assert "Entry line: 301.38 m, then 302.78 m.\n" in told.out
    assert "to 301.3 m" in row(lastrow, home)


def test_what_can_t_be_is_refused_with_its_reason(lastrow: Terminal, home: Path) -> None:
    assert "needs a geotechnical engineer" in rechain(lastrow, home, "298.60", "1", DAY).sentence
    assert "lies within round 64" in rechain(lastrow, home, "300", "1").sentence
    assert "“much” can't be the metres" in rechain(lastrow, home, "298.60", "much").sentence
