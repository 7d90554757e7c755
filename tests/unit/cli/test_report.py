"""Reports from a terminal: from a tablet and from an office's database, the same page."""

import json
import re
from dataclasses import replace
from pathlib import Path
from zipfile import ZipFile

import pytest
from ezdxf.filemanagement import readfile

from fieldapp.report.report_code import parse_report_code
from fieldapp.work.demo.story import CUDDY, MAIN, READY
from tests.demo_mine import CODES, SetClock
from tests.office import demo_share, fill
from tests.unit.cli.conftest import Terminal, Told
from tests.unit.report.pages import reader_of

CODE = re.compile(r"Report code ([0-9A-Z-]{34})")


def code_of(told: Told) -> str:
    assert told.code == 0, told.err
    found = CODE.search(told.out)
    assert found, told.out
    return found[1]


def test_a_tablet_and_an_office_print_the_same_history(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    share = demo_share(tmp_path / "share", of=MAIN)
    fill(f"sqlite:///{tmp_path}/office.db", share.place)
    here, there = tmp_path / "tablet.json", tmp_path / "office.json"
    database = f"sqlite:///{tmp_path}/office.db"
    by_tablet = lastrow("report", "heading", MAIN, "--out", here, "--home", home)
    by_office = lastrow("report", "heading", MAIN, "--out", there, "--office", database)

    assert code_of(by_tablet) == code_of(by_office)
    assert here.read_bytes() == there.read_bytes()


def test_a_report_fits_as_at_its_time_whatever_is_stated_later_and_nothing_else_does(
    lastrow: Terminal, home: Path, clock: SetClock
) -> None:
    told = lastrow("report", "heading", MAIN, "--home", home)
    clock.go_on(minutes=5)
    tear = ("590.4", "--zone", "right shoulder", "--severity", "S3", "--exposure", "E3")
    lastrow("damage", "add", MAIN, "torn mesh", "--at", *tear, "--as", "Geotechnical technician",
            "--home", home)  # fmt: skip
    fits = lastrow("verify", code_of(told), "--home", home)
    later = lastrow("report", "heading", MAIN, "--home", home)
    other = code_of(later)[:15] + code_of(told)[15:-1]

    assert fits.code == 0, fits.err
    assert f"Heading report · {MAIN}, Wrenfall, as at 6 May 2031 09:30 UTC." in fits.out
    assert "It fits: the records here come to the same facts." in fits.out
    assert code_of(later) != code_of(told)
    old = replace(parse_report_code(code_of(told)), making=0).readable
    of_before = lastrow("verify", old, "--home", home)
    assert (of_before.code, "does NOT fit" in of_before.out) == (3, False)
    assert "It was made in an older way" in of_before.out
    assert lastrow("verify", f"{other}0", "--home", home).code == 2


def test_every_page_says_what_outranks_it_and_which_page_it_is(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    lastrow("report", "heading", MAIN, "--paper", "letter", "--out", tmp_path / "it.pdf",
            "--home", home)  # fmt: skip
    pages = reader_of((tmp_path / "it.pdf").read_bytes()).pages
    words = [" ".join(page.extract_text().split()) for page in pages]

    assert {tuple(map(float, page.mediabox[2:])) for page in pages} == {(612.0, 792.0)}
    for number, said in enumerate(words, start=1):
        assert "A barricade or sign in the heading outranks this page." in said
        assert f"page {number} of {len(pages)}" in said
    assert "certified" not in " ".join(words)


def test_an_office_that_was_never_filled_is_told_and_not_made(
    lastrow: Terminal, tmp_path: Path
) -> None:
    told = lastrow("report", "heading", MAIN, "--office", f"sqlite:///{tmp_path}/none.db")

    assert told.code == 2
    assert told.sentence.startswith("No mine's records are in ")
    assert not (tmp_path / "none.db").exists()


@pytest.mark.parametrize("name", ["it.docx", "it"])
def test_a_form_that_is_not_known_is_refused_before_anything_is_written(
    name: str, lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    told = lastrow("report", "heading", MAIN, "--out", tmp_path / name, "--home", home)

    assert told.code == 2
    assert ".pdf" in told.err
    assert not (tmp_path / name).exists()


def test_a_report_that_is_stopped_leaves_no_file(
    lastrow: Terminal, home: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stopped(_progress: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("fieldapp.cli.report.show_progress", stopped)
    told = lastrow("report", "heading", MAIN, "--out", tmp_path / "it.pdf", "--home", home)

    assert told.code == 130
    assert told.sentence == "The report was stopped."
    assert "Nothing was written." in told.err
    assert list(tmp_path.glob("*.pdf*")) == []


def test_a_round_is_printed_from_an_office_as_from_a_tablet(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    fill(f"sqlite:///{tmp_path}/office.db", demo_share(tmp_path / "share", of=MAIN).place)
    name = f"{MAIN} 87"
    here = lastrow("report", "round", name, "--home", home)
    there = [
        lastrow("report", "round", name, "--office", f"sqlite:///{tmp_path}/office.db",
                "--out", tmp_path / f"it.{form}")
        for form in ("pdf", "json", "xlsx")
    ]  # fmt: skip
    told = json.loads((tmp_path / "it.json").read_bytes())

    assert {here.code, *(it.code for it in there)} == {0}
    assert {it.out.splitlines()[-1] for it in (here, *there)} == {here.out.splitlines()[-1]}
    assert reader_of((tmp_path / "it.pdf").read_bytes()).pages[0].extract_text()
    assert [it["number"] for it in told["rounds"]] == [87]
    assert ZipFile(tmp_path / "it.xlsx").testzip() is None


def test_what_each_bolt_carries_goes_on_paper_and_into_a_spreadsheet_alone(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    told = {
        form: lastrow("report", "round", f"{MAIN} 87", "--load", "--out", tmp_path / f"it.{form}",
                      "--home", home)
        for form in ("xlsx", "json")
    }  # fmt: skip

    assert (told["xlsx"].code, told["json"].code) == (0, 2)
    assert b'name="load"' in ZipFile(tmp_path / "it.xlsx").read("xl/workbook.xml")
    assert "in a spreadsheet, not in a file .json" in told["json"].err
    assert not (tmp_path / "it.json").exists()


def test_a_month_and_a_rehab_list_fit_their_codes_from_the_tablet_that_printed_them(
    lastrow: Terminal, home: Path, clock: SetClock
) -> None:
    tear = ("590.4", "--zone", "right shoulder", "--severity", "S3", "--exposure", "E3")
    lastrow("damage", "add", MAIN, "torn mesh", "--at", *tear, "--as", "Geotechnical technician",
            "--home", home)  # fmt: skip
    clock.go_on(days=1)
    told = [
        lastrow("report", *words, "--home", home)
        for words in (("month",), ("month", "2031-05", MAIN), ("rehab",), ("rehab", MAIN))
    ]
    several = code_of(lastrow("report", "month", "2031-05", MAIN, CUDDY, "--home", home))
    clock.go_on(days=1)

    for it in told:
        fits = lastrow("verify", code_of(it), "--home", home)
        assert fits.code == 0, fits.out + fits.err
    assert lastrow("verify", several, CUDDY, MAIN, "--home", home).code == 0
    others = lastrow("verify", several, CUDDY, READY, "--home", home)
    assert "not of those named here" in others.sentence


def test_a_month_that_is_past_is_told_as_it_was_known_at_its_end(
    lastrow: Terminal, home: Path, tmp_path: Path, clock: SetClock
) -> None:
    clock.go_on(days=40)
    tear = ("590.4", "--zone", "right shoulder", "--severity", "S3", "--exposure", "E3")
    lastrow("damage", "add", MAIN, "torn mesh", "--at", *tear, "--as", "Geotechnical technician",
            "--home", home)  # fmt: skip
    by_month = {}
    for month in ("2031-05", "2031-06"):
        out = tmp_path / f"{month}.json"
        lastrow("report", "month", month, MAIN, "--out", out, "--home", home)
        by_month[month] = json.loads(out.read_bytes())
    may, june = by_month.values()

    assert may["as_at"] == "2031-05-31T23:59:59Z"
    assert may["headings"][0]["heading"]["open_damage"] == 0
    assert [it["damage_found"] for it in june["months"]] == [0, 1]
    assert june["headings"][0]["found"][0]["kind"] == "torn mesh"


@pytest.mark.parametrize("words", [("2026-13",), ("2031-05", "2031-00")])
def test_what_is_no_month_is_not_looked_for_among_the_headings(
    lastrow: Terminal, home: Path, words: tuple[str, ...]
) -> None:
    told = lastrow("report", "month", *words, "--home", home)

    assert (told.code, told.sentence) == (2, f"{words[-1]} is no month.")


def test_a_month_to_come_is_refused(lastrow: Terminal, home: Path) -> None:
    told = lastrow("report", "month", "2031-06", "--home", home)

    assert told.code == 2
    assert told.sentence.startswith("2031-06 has not begun")


def test_a_test_of_support_stands_in_its_heading_and_its_month_with_what_it_came_to(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    pull = ("--bolt-type", "RB24", "--pull", "0:0", "--pull", "85:4", "--held", "1")
    lastrow("bolt-test", "record", MAIN, "proof pull", "--at", "608.4", "--zone", "back", *pull,
            "--calibrated", "2031-04-20", "--as", "Geotechnical technician",
            "--home", home)  # fmt: skip
    out = tmp_path / "it.json"
    lastrow("report", "month", "--out", out, "--home", home)
    month = {it["heading"]["name"]: it for it in json.loads(out.read_bytes())["headings"]}
    (told,) = month[MAIN]["tests"]

    assert told["outcome"] == "passed"
    assert "85.0 kN held for 1 min" in told["because"]
    assert next((it["tests"], it["of"]) for it in month[MAIN]["tests_due"]) == (2, 3)
    lastrow("report", "heading", MAIN, "--out", tmp_path / "it.pdf", "--home", home)
    pages = reader_of((tmp_path / "it.pdf").read_bytes()).pages
    words = " ".join(" ".join(page.extract_text().split()) for page in pages)
    assert "Due: proof pull, RB24: 2 of 3 to be made" in words


def test_a_heading_is_drawn_over_the_mine_plan_once_its_line_is_surveyed(
    lastrow: Terminal, home: Path, tmp_path: Path
) -> None:
    line, out = tmp_path / "line.csv", tmp_path / "it.dxf"
    draw = ("report", "heading", MAIN, "--out", out, "--home", home)
    enter = ("heading", "survey", MAIN, line, "--as", "Geotechnical engineer", "--home", home)
    head = "chainage_m,east_m,north_m,height_m\n"
    before = lastrow(*draw)
    line.write_text(f"{head}0,5000,8000,-900\n0,5000,9000,-900\n")
    refused = lastrow(*enter, typed=f"{CODES['Geotechnical engineer']}\n")
    line.write_text(f"{head}0,5000,8000,-900\n1000,5000,9000,-900\n")
    entered = lastrow(*enter, typed=f"{CODES['Geotechnical engineer']}\n")

    assert before.sentence.startswith(f"{MAIN} has no surveyed line")
    assert "each at a chainage of its own" in refused.sentence
    assert entered.out.startswith(f"{MAIN} has a surveyed line of 2 points.")
    assert lastrow(*draw).code == 0
    bolts = readfile(out).modelspace().query('POINT[layer=="bolts"]')
    # Round 87 of the story: four rows 0.9 m apart from the joint at 607.6 m.
    rows = {8608.5, 8609.4, 8610.3, 8611.2}
    assert {round(it.dxf.location.y, 1) for it in bolts} == rows
    assert lastrow("report", "round", f"{MAIN} 87", "--out", out, "--home", home).code == 0
    of_one = readfile(out).modelspace()
    assert {round(it.dxf.location.y, 1) for it in of_one.query("POINT")} == rows
    assert any(f"{MAIN}, round 87, as at" in it.dxf.text for it in of_one.query("TEXT"))
