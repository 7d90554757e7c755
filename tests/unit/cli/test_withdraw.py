"""Withdrawing from a terminal what was stated by mistake."""

import json
from pathlib import Path
from typing import Any

import pytest

from fieldapp.work.demo.story import MAIN
from tests.demo_mine import CODES
from tests.unit.cli.conftest import Terminal, Told

DAY, ENGINEER, BOLTER = "Day supervisor", "Geotechnical engineer", "Bolter, crew A"


def stated(lastrow: Terminal, home: Path, kind: str) -> list[dict[str, Any]]:
    """Give the entries of a kind that nobody withdrew."""
    return [
        json.loads(it) for it in lastrow("export", "--kind", kind, "--home", home).out.splitlines()
    ]


def board_row(lastrow: Terminal, home: Path) -> str:
    lines = lastrow("board", "--home", home).out.splitlines()
    return next(line for line in lines if MAIN in line)


def shaken(lastrow: Terminal, home: Path) -> dict[str, Any]:
    """State a seismic event in the wrong heading, and give its entry."""
    lastrow("event", MAIN, "seismic", "--at", "600", "--as", BOLTER, "--home", home)
    return stated(lastrow, home, "event")[-1]


def withdraw(lastrow: Terminal, home: Path, name: str, who: str = DAY) -> Told:
    words = ("--reason", "wrong heading", "--as", who, "--home", home)
    return lastrow("withdraw", name, *words, typed=f"{CODES[who]}\n")


def test_a_withdrawn_event_gives_back_what_it_withdrew(lastrow: Terminal, home: Path) -> None:
    before = board_row(lastrow, home)
    event = shaken(lastrow, home)
    assert board_row(lastrow, home) != before
    told = withdraw(lastrow, home, event["id"])

    assert told.code == 0, told.err
    assert told.out.startswith("Void: event of 6 May 2031 09:30 UTC, revision ")
    assert "Reason: wrong heading\nNothing stands in its place.\n" in told.out
    assert board_row(lastrow, home) == before


def test_the_withdrawn_entry_and_the_reason_are_kept(lastrow: Terminal, home: Path) -> None:
    event = shaken(lastrow, home)
    withdraw(lastrow, home, event["id"])

    kept = stated(lastrow, home, "withdrawal")
    assert [it["body"]["reason"] for it in kept] == ["wrong heading"]
    assert [it["body"]["thing"] for it in kept] == [event["id"]]


def test_the_beginning_of_a_revision_is_enough(lastrow: Terminal, home: Path) -> None:
    first = withdraw(lastrow, home, shaken(lastrow, home)["id"])
    revision = first.out.splitlines()[0].rpartition(" ")[2]
    again = withdraw(lastrow, home, revision[:8])

    assert len(revision) == 64
    assert [again.code, again.sentence] == [2, "This event was withdrawn already."]


@pytest.mark.parametrize("name", ["01c2b7ac", "0" * 64, "", "%"])
def test_what_nobody_stated_is_refused(name: str, lastrow: Terminal, home: Path) -> None:
    told = withdraw(lastrow, home, name)

    assert [told.code, told.sentence] == [2, f"Nothing recorded here has the revision {name}."]


def test_who_stands_too_low_withdraws_nothing(lastrow: Terminal, home: Path) -> None:
    event = shaken(lastrow, home)
    before = board_row(lastrow, home)
    told = withdraw(lastrow, home, event["id"], BOLTER)

    assert told.code != 0
    assert told.sentence == "Bolter, crew A may not withdraw this event."
    assert board_row(lastrow, home) == before


def test_what_an_engineer_adopted_a_supervisor_does_not_withdraw(
    lastrow: Terminal, home: Path
) -> None:
    standard = stated(lastrow, home, "standard")[-1]
    told = withdraw(lastrow, home, standard["id"])

    assert told.sentence == "Day supervisor may not withdraw this standard."


def test_nobody_withdraws_without_their_sign_code(lastrow: Terminal, home: Path) -> None:
    event = shaken(lastrow, home)
    words = ("--reason", "wrong heading", "--as", DAY, "--home", home)
    told = lastrow("withdraw", event["id"], *words, typed="0000\n")

    assert told.code != 0
    assert stated(lastrow, home, "withdrawal") == []


def test_a_reason_is_needed(lastrow: Terminal, home: Path) -> None:
    event = shaken(lastrow, home)
    words = ("--reason", "x", "--as", DAY, "--home", home)
    told = lastrow("withdraw", event["id"], *words, typed=f"{CODES[DAY]}\n")

    assert told.code == 2
    assert "Reason: " in told.sentence
    assert stated(lastrow, home, "withdrawal") == []
