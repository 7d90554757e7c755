"""Tests of support from a terminal: what is due, what a test comes to, what a failed one opens."""

from pathlib import Path

from fieldapp.work.demo.story import MAIN
from tests.unit.cli.conftest import Terminal, Told
from tests.unit.cli.test_damage import TECHNICIAN, short

PULL = ("--bolt-type", "RB24", "--pull", "0:0", "--pull", "85:4", "--held", "1")
CALIBRATED = ("--calibrated", "2031-04-20")


def record(lastrow: Terminal, home: Path, *more: str, at: str = "590.4") -> Told:
    place = ("--at", at, "--zone", "back", "--as", TECHNICIAN, "--home", str(home))
    return lastrow("bolt-test", "record", MAIN, "proof pull", *place, *more)


def test_a_test_says_at_once_what_it_comes_to_and_the_due_ones_get_fewer(
    lastrow: Terminal, home: Path
) -> None:
    before = lastrow("bolt-test", "due", MAIN, "--home", home).out
    told = record(lastrow, home, *PULL, *CALIBRATED, at="608.4")
    after = lastrow("bolt-test", "due", MAIN, "--home", home).out

    assert "passed: 85.0 kN held for 1 min, the head came 4.0 mm; demanded: 85 kN held" in told.out
    assert "proof pull, RB24: 3 of 3 still due" in before
    assert "proof pull, RB24: 2 of 3 still due" in after


def test_a_failed_test_says_what_follows_and_stays_on_the_list(
    lastrow: Terminal, home: Path
) -> None:
    said = ("--bolt", "2/5", "--bolt-type", "RB24", "--pull", "0:0", "--pull", "62:25:40")
    told = record(
        lastrow, home, *said, *CALIBRATED, "--broke", "anchor slipped", "--batch", "RB24-0731"
    )
    test = short(told)
    due = lastrow("bolt-test", "due", MAIN, "--home", home).out

    assert "failed: the anchor slipped at 62.0 kN; demanded: 85 kN held for 1 min" in told.out
    assert "Test the 2 nearest bolts: 0 of 2 made (S-2, 11.4)." in told.out
    assert "Record its bolt as damage: another one goes beside it." in told.out
    assert "Batch RB24-0731 in doubt: an engineer decides." in told.out
    assert f"follows failed test {test}" in due
    assert "RB24-0731: bolts RB24, in doubt" in lastrow("batch", "list", "--home", home).out
    board = lastrow("board", "--home", home).out
    assert f"Failed test, {MAIN}: failed proof pull at 590.4 m, back: the anchor slipped" in board
    shown = lastrow("bolt-test", "show", test, "--home", home).out
    assert "62 kN, 25 mm after 40 s" in shown
    record(lastrow, home, *PULL, *CALIBRATED, "--bolt", "2/4", "--after", test)
    (opened,) = lastrow("bolt-test", "due", MAIN, "--json", "--home", home).json[0]["opened"]
    assert (opened["tests"], opened["replaced"]) == (1, "to be recorded as damage")


def test_what_is_odd_is_kept_only_all_the_same(lastrow: Terminal, home: Path) -> None:
    asked = record(lastrow, home, *PULL)
    kept = record(lastrow, home, *PULL, "--all-the-same")

    assert asked.code == 2
    assert asked.sentence == (
        "Nobody said when the rig or wrench was last calibrated, so that it can't pass."
    )
    assert "can't be judged: the rig was never calibrated" in kept.out
    (known,) = lastrow("bolt-test", "list", "--json", "--home", home).json
    assert known["outcome"] == "can't be judged"


def test_a_reading_and_a_day_are_refused_where_they_are_none(
    lastrow: Terminal, home: Path
) -> None:
    reading = record(lastrow, home, "--bolt-type", "RB24", "--pull", "85")
    day = record(lastrow, home, *PULL, "--calibrated", "20 April")

    assert reading.sentence == "“85” is no reading of a pull."
    assert day.sentence == "“20 April” is no date."
    assert "No test is recorded." in lastrow("bolt-test", "list", "--home", home).out


def test_what_cant_be_read_is_named_as_the_trade_names_it_and_as_it_is_typed(
    lastrow: Terminal, home: Path
) -> None:
    said = ("--bolt-type", "RB24", "--pull", "0:0", "--pull")
    typed = record(lastrow, home, *said, "85:4mm")
    low = record(lastrow, home, *said, "85:-4")

    assert typed.sentence == (
        'The test can\'t be so: Pulled 2, displacement (mm): "4mm" stands there, and a measured '
        "value is a plain number, such as 1.25."
    )
    assert 'displacement (mm): "-4" stands there, and it can\'t be less than 0' in low.sentence
    assert "No test is recorded." in lastrow("bolt-test", "list", "--home", home).out


def test_the_summary_says_the_share_that_passed_with_its_interval(
    lastrow: Terminal, home: Path
) -> None:
    nothing = lastrow("bolt-test", "summary", "--home", home).out
    record(lastrow, home, *PULL, *CALIBRATED)
    told = lastrow("bolt-test", "summary", MAIN, "--home", home).out
    (one,) = lastrow("bolt-test", "summary", "--json", "--home", home).json

    assert nothing == "No test that can be judged is recorded.\n"
    assert "proof pull, RB24, ground not known: 1 of 1 passed" in told
    assert "100.0 % pass, within 2.5 to 100.0 % (95 %, exact)" in told
    assert "mean" not in told, "a proof load is no strength"
    assert (one["passed"], one["tests"], one["spread"]) == (1, 1, None)


def test_a_test_is_put_right_with_the_reason_and_what_it_was_before_is_shown(
    lastrow: Terminal, home: Path
) -> None:
    said = ("--bolt-type", "RB24", "--pull", "0:0", "--pull", "62:25", "--batch", "RB24-0731")
    test = short(record(lastrow, home, *said, *CALIBRATED, "--broke", "anchor slipped"))
    right = ("--pull", "0:0", "--pull", "85:4", "--held", "1", "--broke", "nothing")
    why = ("--because", "gauge misread", "--as", TECHNICIAN, "--home", str(home))
    told = lastrow("bolt-test", "correct", test, *right, *why)
    waits = lastrow("bolt-test", "show", test, "--home", home).out
    agreed = ("--because", "gauge misread", "--as", "Geotechnical engineer", "--home", str(home))
    right_then = lastrow("bolt-test", "correct", test, *agreed)
    shown = lastrow("bolt-test", "show", test, "--home", home).out
    nothing = lastrow("bolt-test", "correct", test, *right, *why)

    assert f"Test {test} has a correction that waits. Before that failed." in told.out
    for shown_now in (told.out, waits):
        assert "failed: the anchor slipped at 62.0 kN" in shown_now
        assert f"A correction by {TECHNICIAN} waits, “gauge misread”, by which it" in shown_now
        assert "by which it passed: 85.0 kN held" in shown_now
        assert "A geotechnical engineer must agree with it; until then this stands." in shown_now
    assert f"Test {test} is put right. Before that failed." in right_then.out
    assert "passed: 85.0 kN held for 1 min" in right_then.out
    assert "Batch RB24-0731 stays in doubt: an engineer decides on it." in told.out
    assert shown.splitlines()[-3:] == [
        "Put right: gauge misread (Geotechnical engineer).",
        f"Before that passed: 85.0 kN held for 1 min, the head came 4.0 mm ({TECHNICIAN}).",
        f"Before that failed: the anchor slipped at 62.0 kN ({TECHNICIAN}).",
    ]
    assert nothing.sentence == ("The test was not corrected: it says what was stated already.")
