"""A take-off from a terminal."""

from pathlib import Path

from fieldapp.work.demo.story import MAIN
from tests.unit.cli.conftest import Terminal


def test_the_next_round_as_a_table(lastrow: Terminal, home: Path) -> None:
    told = lastrow("take-off", MAIN, "--advance-m", "3.6", "--lap-mm", "350", "--home", home)

    assert told.out.startswith(f"{MAIN}, next round, by S-2 revision 5\n")
    assert "3.6 m of advance, 4 rows, 9.916 m of rock in a row, 350 mm of lap" in told.out
    assert "Bolts RB24           36       10" in told.out
    assert "Mesh                 72 m²    20 m²" in told.out
    assert "5 sheets across, 2 along the drive." in told.out


def test_a_recorded_round_as_json(lastrow: Terminal, home: Path) -> None:
    told = lastrow("take-off", "--round", f"{MAIN} 87", "--json", "--home", home).json

    assert (told["number"], told["standard"]) == (87, "S-2 revision 5")
    bolts = next(it for it in told["take_off"]["items"] if it["kind"] == "bolts")
    assert bolts == {"kind": "bolts", "of": "RB24", "per_round": "36.000", "per_metre": "10.000"}


def test_what_nothing_can_be_reckoned_for_is_refused(lastrow: Terminal, home: Path) -> None:
    neither = lastrow("take-off", "--home", home)
    nowhere = lastrow("take-off", MAIN, "--advance-m", "0", "--home", home)

    assert neither.sentence == "A take-off is of one heading or of one round."
    assert nowhere.sentence == "0 m is no advance of a round."
