"""A take-off from a terminal."""

from pathlib import Path

from fieldapp.start import open_site
from fieldapp.work.demo.story import MAIN
from fieldapp.work.rounds import find_round
from fieldapp.work.writing import state
from schemas.bodies.work_seen import BoltsUsed, Used, WorkSeen
from tests.demo_mine import CODES, SetClock
from tests.unit.cli.conftest import Terminal


def test_the_next_round_as_a_table(lastrow: Terminal, home: Path) -> None:
    told = lastrow("take-off", MAIN, "--advance-m", "3.6", "--lap-mm", "350", "--home", home)

    assert told.out.startswith(f"{MAIN}, next round, by S-2 revision 5\n")
    assert "3.6 m of advance, 4 rows, 9.916 m of rock in a row, 350 mm of lap" in told.out
    assert "Bolts RB24           36       10" in told.out
    assert "Mesh                 72 m²    20 m²" in told.out
    assert "5 sheets across, 2 along the drive." in told.out
    assert "material 2145.60 AUD, 596.00 a metre." in told.out


def test_a_lap_below_the_least_demanded_is_reckoned_with_and_named(
    lastrow: Terminal, home: Path
) -> None:
    told = lastrow("take-off", MAIN, "--lap-mm", "200", "--home", home)

    assert "A lap of 200 mm is less than the 300 mm that are demanded." in told.out


def test_a_lap_that_leaves_next_to_nothing_of_a_sheet_is_asked_about(
    lastrow: Terminal, home: Path
) -> None:
    said = "A lap of 2390 mm is far more than the 300 mm demanded: is that meant?"

    assert said in lastrow("take-off", MAIN, "--lap-mm", "2390", "--home", home).out
    assert "is that meant" not in lastrow("take-off", MAIN, "--lap-mm", "600", "--home", home).out


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


def test_a_round_says_what_was_used_and_who_went_beyond_stands_above_the_board(
    lastrow: Terminal, home: Path, clock: SetClock
) -> None:
    site = open_site(home, now=clock)
    with site.store:
        known = find_round(site, f"{MAIN} 87")
        used = Used(bolts=(BoltsUsed(bolt_type="RB24", bolts=38),), mesh_pieces=9, plates=36)
        work = WorkSeen(beyond_last_row=True, beyond_reason="to bar down", used=used)
        body = known.body.model_copy(update={"work": work})
        parents = (known.entry.revision,)
        state(site, "round", body, author=None, thing_id=known.id, parents=parents)

    told = lastrow("take-off", "--round", f"{MAIN} 87", "--home", home).out
    assert [line.split()[-2:] for line in told.splitlines()[-3:]] == [
        ["2", "more"], ["taken", "off"], ["1", "less"]
    ]  # fmt: skip

    waits = f"{MAIN}: somebody went beyond the last row in round 87, to bar down."
    assert waits in lastrow("board", "--home", home).out
    by = ("--as", "Day supervisor", "--home", home)
    found = ("looked-into", f"{MAIN} 87", "--found", "new rods ordered", *by)
    looked = lastrow(*found, typed=CODES["Day supervisor"])
    assert "It opens no heading" in looked.out
    assert waits not in lastrow("board", "--home", home).out
    again = lastrow(*found, typed=CODES["Day supervisor"])
    assert again.sentence == "Round 87 states of nobody that they went beyond the last row."
