"""Damage and its repair from a terminal, from the tear to who verified that it is mended."""

import re
from pathlib import Path

from fieldapp.work.demo.story import MAIN
from tests.demo_mine import CODES, SetClock
from tests.photos.taken import taken
from tests.unit.cli.conftest import Terminal, Told

TECHNICIAN, ENGINEER, BOLTER = (
    "Geotechnical technician",
    "Geotechnical engineer",
    "Bolter, crew A",
)
SHORT = re.compile(r"[0-9A-Z]{4}-[0-9A-Z]{4}-[0-9A-Z*~$=]")


def tear(lastrow: Terminal, home: Path, *more: str) -> Told:
    words = ("--at", "590.4", "--zone", "right shoulder", "--severity", "S3", "--exposure", "E3")
    size = ("--openings", "6", "--above-floor", "2.4", "--by", "tape")
    return lastrow(
        "damage",
        "add",
        MAIN,
        "torn mesh",
        *words,
        *size,
        *more,
        "--as",
        TECHNICIAN,
        "--home",
        home,
    )


def short(told: Told) -> str:
    assert told.code == 0, told.err
    found = SHORT.search(told.out)
    assert found, told.out
    return found[0]


def test_a_tear_says_at_once_how_soon_it_is_repaired_and_who_goes_beneath(
    lastrow: Terminal, home: Path
) -> None:
    told = tear(lastrow, home)

    assert f"Torn mesh in {MAIN} is kept as " in told.out
    assert "P2, due 13 May 2031: nobody on foot beneath." in told.out
    assert "Nobody on foot beneath until patched: hole of 6 openings" in told.out
    board = lastrow("board", "--home", home).out
    assert f"{MAIN}, on the way in, outbye: restricted: torn mesh at 590.4 m" in board
    found = lastrow("find", short(told), "--home", home).out
    assert "Entry to 611.2 m, nobody beyond, and restricted on the way in." in found


def test_what_is_seen_again_is_one_damage_with_what_was_seen_of_it(
    lastrow: Terminal, home: Path, clock: SetClock
) -> None:
    first = short(tear(lastrow, home))
    clock.go_on(days=30)
    again = tear(lastrow, home, "--again", first)
    shown = lastrow("damage", "show", first, "--home", home)

    assert short(again) == first
    assert "overdue since 13 May 2031" in shown.out
    assert shown.out.count("torn mesh, S3, 6 openings") == 2
    assert lastrow("damage", "list", MAIN, "--home", home).out.count(first) == 1


def test_an_engineer_decides_with_their_own_code(
    lastrow: Terminal, home: Path, clock: SetClock
) -> None:
    damage = short(tear(lastrow, home))
    clock.go_on(minutes=5)
    why = ("--priority", "P4", "--reason", "bulkheaded tonight", "--as", ENGINEER, "--home", home)
    told = lastrow("damage", "decide", damage, *why, typed=f"{CODES[ENGINEER]}\n")

    assert told.out.startswith("P4, due ")
    assert "P4, decided by an engineer: bulkheaded tonight." in told.out


def test_a_repair_is_planned_begun_done_and_verified_by_somebody_else(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    damage = short(tear(lastrow, home))
    plan = ("--order", "Bar down, sheet, bolt.", "--as", ENGINEER, "--home", home)
    propose = ("--order", "Sheet, bolt.", "--as", TECHNICIAN, "--home", home)
    rehab = short(lastrow("rehab", "propose", damage, *propose))
    planned = lastrow("rehab", "plan", rehab, *plan, typed=f"{CODES[ENGINEER]}\n")
    barrier = ("--barrier-by", "Bolter", "--barrier-at", "585 m", "--as", BOLTER, "--home", home)
    begun = lastrow("rehab", "start", damage, *barrier)
    older, clock = taken(tmp_path / "older.jpg"), "the camera's clock is wrong"
    said = ("--outcome", "restored", "--lap", "3", "--as", BOLTER, "--home", home)
    untold = lastrow("rehab", "done", rehab, *said, "--photo", older)
    done = lastrow("rehab", "done", rehab, *said, "--photo", older, "--older-photo", clock)
    barred = lastrow("board", "--home", home).out
    by = ("--barrier-down", "--as", TECHNICIAN, "--home", home)
    verified = lastrow("rehab", "verify", rehab, *by, typed=f"{CODES[TECHNICIAN]}\n")

    acts = (planned, begun, done, verified)
    assert [it.code for it in acts] == [0, 0, 0, 0], [it.err for it in acts]
    assert short(planned) == short(begun) == rehab
    assert "its photo is of 3 May 2031" in untold.sentence, "its camera said so"
    assert "barricaded" in barred
    assert "is verified" in verified.out
    assert lastrow("rehab", "list", "--home", home).out == "Nothing is to be repaired.\n"
    assert rehab in lastrow("rehab", "list", "--verified", "--home", home).out


def test_a_repair_without_a_photo_is_not_verified_and_says_what_to_do(
    lastrow: Terminal, home: Path
) -> None:
    damage = short(tear(lastrow, home))
    plan = ("--order", "Sheet, bolt.", "--as", ENGINEER, "--home", home)
    rehab = short(lastrow("rehab", "plan", damage, *plan, typed=f"{CODES[ENGINEER]}\n"))
    barrier = ("--barrier-by", "Bolter", "--barrier-at", "585 m", "--as", BOLTER, "--home", home)
    lastrow("rehab", "start", rehab, *barrier)
    said = ("--outcome", "patched", "--lap", "3", "--as", BOLTER, "--home", home)
    untold = lastrow("rehab", "done", rehab, *said)
    lastrow("rehab", "done", rehab, *said, "--no-photo", "no camera was there")
    by = ("--barrier-down", "--as", TECHNICIAN, "--home", home)
    refused = lastrow("rehab", "verify", rehab, *by, typed=f"{CODES[TECHNICIAN]}\n")

    assert refused.code != 0
    assert "nobody said why" in untold.sentence
    told = "no photo shows what was done (no camera was there)."
    assert refused.sentence == f"The repair was not verified: {told}"
