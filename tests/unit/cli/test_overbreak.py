"""`lastrow overbreak`: a surveyed list goes into the round that is being looked at."""

from pathlib import Path

from fieldapp.work.demo.story import MAIN, ORE_S
from tests.unit.cli.conftest import Terminal

OUTLINE = ("-2.6,0", "-2.6,3.4", "0,4.6", "2.6,3.4", "2.6,0.1")
WHO = ("--as", "Day supervisor")


def a_list(folder: Path, *rows: str) -> Path:
    file = folder / "round.csv"
    lines = [f"{row},{it}" for row in rows for it in OUTLINE] if rows else list(OUTLINE)
    header = "row,x_m,y_m" if rows else "x_m,y_m"
    file.write_text("\n".join((header, *lines, "")))
    return file


def test_rows_that_a_list_names_are_taken_each_with_its_width(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    told = lastrow("overbreak", ORE_S, a_list(tmp_path, "1", "2"), *WHO, "--home", home)

    assert told.code == 0, told.err
    assert told.out == (
        f"Round 61 of {ORE_S}: the survey is taken.\n"
        "Row 1: 5.200 m wide, 5 points.\nRow 2: 5.200 m wide, 5 points.\n"
    )


def test_a_list_without_rows_is_of_the_whole_round(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    told = lastrow("overbreak", ORE_S, a_list(tmp_path), *WHO, "--home", home)

    assert told.out.endswith("The round: 5.200 m wide, 5 points.\n")


def test_a_list_with_a_fault_names_its_line_and_one_for_no_open_round_says_so(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    wrong = a_list(tmp_path, "1", "high")
    refused = lastrow("overbreak", ORE_S, wrong, *WHO, "--home", home)
    nobody = lastrow("overbreak", MAIN, a_list(tmp_path), *WHO, "--home", home)

    assert 'line 7, row: "high" is no row' in refused.err
    assert f"No round of {MAIN} is being looked at on this tablet." in nobody.err
