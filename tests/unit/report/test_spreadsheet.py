"""The spreadsheet, read back from its own XML: numbers are numbers, times are times."""

import re
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from io import BytesIO
from xml.etree import ElementTree as ET
from zipfile import ZipFile

from fieldapp.report.reported import code_of
from fieldapp.report.spreadsheet import spreadsheet
from fieldapp.work.reporting.facts import HeadingFacts, MonthFacts
from fieldapp.work.reporting.told import MaterialTold, WorkTold
from tests.unit.report.told import (
    AT,
    bolt,
    damage_told,
    heading_facts,
    month_facts,
    pace_told,
    round_told,
    work_told,
)

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
FIRST_DAY = datetime(1899, 12, 30, tzinfo=UTC)
"""Of a workbook's serial dates: ECMA-376 part 1, 18.17.4.1, with its leap day of 1900."""

Sheets = dict[str, list[dict[str, str | float]]]


def read(facts: HeadingFacts | MonthFacts) -> Sheets:
    """Give each sheet's rows by the heads of its columns; what is no text is a number."""
    with ZipFile(BytesIO(spreadsheet(facts, code_of(facts).readable))) as book:
        shared = [
            "".join(it.text or "" for it in one.iter(f"{MAIN}t"))
            for one in parsed(book.read("xl/sharedStrings.xml"))
        ]
        names = [
            it.get("name") or ""
            for it in parsed(book.read("xl/workbook.xml")).iter(f"{MAIN}sheet")
        ]
        return {
            name: _rows(parsed(book.read(f"xl/worksheets/sheet{number}.xml")), shared)
            for number, name in enumerate(names, start=1)
        }


def parsed(content: bytes) -> ET.Element:
    return ET.fromstring(content)  # noqa: S314 - our own bytes


def _rows(sheet: ET.Element, shared: list[str]) -> list[dict[str, str | float]]:
    head: dict[str, str] = {}
    rows = []
    for row in sheet.iter(f"{MAIN}row"):
        cells = {}
        for it in row.iter(f"{MAIN}c"):
            value = it.find(f"{MAIN}v")
            assert it.find(f"{MAIN}f") is None, "a formula"
            if value is not None and value.text is not None:
                column = re.sub(r"\d", "", it.get("r") or "")
                is_text = it.get("t") == "s"
                cells[column] = shared[int(value.text)] if is_text else float(value.text)
        if not head:
            head = {column: str(words) for column, words in cells.items()}
        else:
            rows.append({head[column]: value for column, value in cells.items()})
    return rows


def test_lengths_are_numbers_and_their_unit_stands_in_the_head() -> None:
    (told,) = read(heading_facts(round_told(bolt("151.2", "0"))))["rounds"]

    assert told["joint [m]"] == 150.0
    assert told["last row to face [m]"] == 0.82
    assert told["decision"] == "accepted"


def test_a_time_is_a_date_by_the_mine_s_own_clock_and_the_head_says_which() -> None:
    (told,) = read(heading_facts(round_told(), zone="Australia/Perth"))["rounds"]
    serial = told["recorded at [Australia/Perth]"]

    assert isinstance(serial, float)
    local = AT + timedelta(hours=8)
    assert abs(FIRST_DAY + timedelta(days=serial) - local) < timedelta(seconds=1)


def test_there_is_a_sheet_a_subject_and_what_is_nothing_says_so() -> None:
    sheets = read(heading_facts(round_told(bolt("151.2", "0")), damages=(damage_told(),)))

    assert {"about", "rounds", "findings", "bolts", "laps", "sheets", "damage", "months"} <= set(
        sheets
    )
    assert sheets["bolts"][0]["s [m]"] == 0.0
    assert sheets["damage"][0]["extent openings"] == 6.0
    assert sheets["repairs"] == []


def test_what_a_round_took_stands_beside_what_it_takes_as_numbers() -> None:
    bolts = MaterialTold(
        thing="bolts",
        of="RB24",
        unit="each",
        by_standard=Decimal(36),
        used=Decimal(38),
        difference=Decimal(2),
    )
    told = round_told().model_copy(update={"materials": (bolts,)})

    assert read(heading_facts(told))["take-off"] == [
        {
            "round": 87.0,
            "thing": "bolts",
            "of": "RB24",
            "unit": "each",
            "by standard": 36.0,
            "used": 38.0,
            "difference": 2.0,
        }
    ]


def test_words_that_begin_like_a_formula_stay_words() -> None:
    (told,) = read(heading_facts(round_told()))["rounds"]

    assert told["recorded by"] == "=HYPERLINK(1)"


def test_it_bears_the_code_of_its_facts_and_the_cautions() -> None:
    facts = heading_facts()
    sheets = read(facts)

    assert sheets["about"][0]["report code"] == code_of(facts).readable
    assert any("does not make ground safe" in str(it["caution"]) for it in sheets["cautions"])


def test_a_month_s_work_stands_on_sheets_of_its_own_numbers_as_numbers() -> None:
    sheets = read(month_facts(work=work_told(rounds=4, stated=4, pace=[pace_told()])))
    (told,), (counted,) = sheets["pace and cost"], sheets["work"]

    assert (told["heading"], told["title"], told["median"]) == (
        "4180 Main",
        "Minutes per round",
        92,
    )
    assert counted["rounds"] == 4
    assert {"beyond the last row", "delays", "take-off", "pace by month"} <= set(sheets)


def test_rows_of_another_sheet_make_no_empty_column() -> None:
    (told,) = read(heading_facts(round_told()))["rounds"]

    assert not {"bolts", "findings", "materials"} & set(told)


def test_what_is_about_the_report_and_what_its_standard_demands_stand_apart() -> None:
    """A row of 170 columns told nobody anything."""
    sheets = read(heading_facts(round_told()))
    (about,) = sheets["about"]
    demanded = {it["what"]: it.get("value") for it in sheets["demanded"]}

    assert set(about) <= {"mine", "demo", "zone", "as at [UTC]", "method version", "kind",
                          "report code"}  # fmt: skip
    assert demanded["pattern row spacing [m]"] == 0.9
    assert demanded["rock density [kg/m³]"] == 2800.0


def test_a_unit_of_several_words_stands_in_the_head_whole() -> None:
    nothing = dict.fromkeys(WorkTold.model_fields)
    seen = WorkTold.model_validate(nothing | {"held_up_by": "", "meshed_per_hour_m2": "46.45"})
    (told,) = read(heading_facts(round_told().model_copy(update={"work": seen})))["rounds"]

    assert told["work meshed [m²/h]"] == 46.45


def test_what_nobody_stated_of_a_round_makes_no_empty_column() -> None:
    (told,) = read(heading_facts(round_told()))["rounds"]

    assert "work" not in told
