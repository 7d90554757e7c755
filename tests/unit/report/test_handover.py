"""The handover: words that can be read out, and one page of them."""

import re
from dataclasses import replace
from decimal import Decimal
from functools import cache

import pytest

from fieldapp.assess.entry.state import Coverage, Doubt, EntryState, Reason, State
from fieldapp.report.handover import handover, handover_sheet
from fieldapp.report.handover_words import CAUTIONS, spoken
from fieldapp.report.round_sheet.blocks import EDGE_MM
from schemas.findings import Verdict
from tests.unit.assess.conforming import conforming, loose, missing, with_bolts, with_round
from tests.unit.report.examples import (
    JUDGED,
    MEETS,
    SHEET,
    UNSIGNED,
    crowded,
    in_feet,
    judged_sheet,
)
from tests.unit.report.pages import flat, reader_of, runs_of, sizes_of, words_of

SPOILT = with_bolts(with_bolts(conforming("D1", 3), 2, missing(7)), 1, loose(4))
CLOSED: State = "no entry, barrier not yet up"
IN_DOUBT = Doubt(
    "RB24-0731", "2.1 m in packs of 2.4 m", ((False, 87),), "an engineer decides until 09:30"
)
SHEETS = {
    "by hand": SHEET,
    "by hand, in feet": in_feet(SHEET),
    "forty, in feet": in_feet(crowded(40)),
    "not signed": UNSIGNED,
    "spoilt": judged_sheet(with_round(SPOILT, rows_planned=4)),
    "in doubt": replace(SHEET, doubts=(IN_DOUBT,)),
    "meets": replace(SHEET, assessment=MEETS),
    "forty": crowded(40),
    "eighty": crowded(80),
}
pages = pytest.mark.parametrize("name", SHEETS)


@cache
def printed(name: str) -> bytes:
    return handover_sheet(SHEETS[name])


@pages
def test_nothing_in_it_has_to_be_spelled_out(name: str) -> None:
    for line in handover(SHEETS[name]).lines:
        assert not re.search(r"[±≤≥×°\u00b2]|\d (m|mm|kN|kPa|MPa|N·m|t)\b", line), line
        assert line.endswith(".")


def test_a_batch_in_doubt_is_read_out_after_the_decision() -> None:
    lines = handover(SHEETS["in doubt"]).lines
    said = "Batch RB24-0731 is in doubt: an engineer decides until 09:30."

    assert said in lines
    assert "Signed by" in lines[lines.index(said) - 1]


def test_units_are_said_in_full() -> None:
    said = spoken("gap 2.07\u00a0m, lap 210 mm, 9°, 0.82 per m², 180 N·m, 2.36 ± 0.07 m")

    assert said == (
        "gap 2.07 metres, lap 210 millimetres, 9 degrees, 0.82 per square metre, "
        "180 newton metres, 2.36 plus or minus 0.07 metres"
    )


def test_the_worst_is_read_out_first_with_its_place() -> None:
    said = handover(SHEET)

    assert [verdict for verdict, _ in said.wrong] == [
        Verdict.NO_ENTRY,
        Verdict.REWORK,
        Verdict.REWORK,
        Verdict.MEASURE_AGAIN,
        Verdict.FIX_THIS_SHIFT,
    ]
    assert said.wrong[0][1] == (
        "No entry: largest gap, 2.36 metres, should be at most 2.07 metres. "
        "Row 2, 2.5 metres right of the crown."
    )


def test_every_job_is_numbered_in_its_order() -> None:
    lines = handover(SHEET).lines

    start = lines.index("To do: 4 jobs.") + 1
    assert lines[start : start + 4] == tuple(
        f"{number}. {spoken(job[0].upper() + job[1:])}."
        for number, job in enumerate(JUDGED.fix_list, start=1)
    )


def test_what_was_not_looked_at_is_said_by_place() -> None:
    assert handover(SHEET).not_seen == (
        "Not looked at, row 3: bolts present, row 3.",
        "No look can show bond, hidden length, grout, ground behind mesh.",
    )


def test_a_round_with_nothing_wrong_says_so() -> None:
    said = handover(SHEETS["meets"])

    assert said.wrong == ()
    assert said.jobs == ()
    assert said.not_seen[0] == "Everything that the standard asks for was looked at."


def test_the_entry_line_is_never_said_beyond_where_it_is() -> None:
    assert SHEET.sign_off is not None
    near = SHEET.sign_off.model_copy(update={"entry_line_m": Decimal("1384.68")})

    assert handover(replace(SHEET, entry=None, sign_off=near)).lines[1] == (
        "Entry to 1\u00a0384.6 metres, nobody beyond."
    )


def test_a_mine_that_reads_feet_is_read_out_feet_and_inches() -> None:
    said = handover(in_feet(SHEET))

    # 1386.40 m is 4548 ft 6.68 in: an entry line goes down
    assert said.entry[0].replace("\u00a0", " ") == ("Entry to 4 548 feet 6 inches, nobody beyond.")
    assert said.wrong[0][1] == (
        "No entry: largest gap, 7 feet 8.9 inches, should be at most 6 feet 9.5 inches. "
        "Row 2, 8 feet 2 inches right of the crown."
    )
    assert not any(re.search(r"\d (metres|millimetres|m|mm|ft|in)\b", it) for it in said.lines)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("1\u00a0ft\u00a01\u00a0in", "1 foot 1 inch"),
        ("11\u00a0ft\u00a08.1\u00a0in", "11 feet 8.1 inches"),
    ],
)
def test_one_foot_and_one_inch_are_one(words: str, said: str) -> None:
    assert spoken(words) == said


def test_the_entry_line_comes_first_and_says_what_lies_beyond() -> None:
    state = EntryState(
        line_m=Decimal("1384.60"),
        face_m=Decimal("1389.90"),
        state=CLOSED,
        outbye="entry allowed",
        verdict=Verdict.NO_ENTRY,
        reasons=(Reason("seismic at 1386.0 m: until somebody inspects", CLOSED, "stated"),),
        until=None,
        cut_off=False,
        metres_not_signed=Decimal(0),
        coverage=Coverage(Decimal(0), Decimal(0)),
    )

    assert handover(replace(SHEET, entry=state)).lines[1:3] == (
        "Entry to 1\u00a0384.6 metres, nobody beyond.",
        "From there to the face at 1\u00a0389.9 metres: no entry, barrier not yet up, seismic at "
        "1386.0 metres: until somebody inspects.",
    )


def test_nobody_is_named_where_nobody_signed() -> None:
    said = handover(UNSIGNED)

    assert said.decided == ("Not signed. Nobody has decided on this round.",)
    assert said.entry == ("The entry line is not known. Ask the Shift board.",)


def test_a_demo_is_said_to_be_one() -> None:
    said = handover(replace(SHEET, demo=True))

    assert said.title == "Worked example, not real ground. Wrenfall Decline, round 214."


@pages
def test_it_is_one_page_inside_its_edges_with_nothing_over_anything(name: str) -> None:
    runs = runs_of(printed(name))

    assert len(reader_of(printed(name)).pages) == 1
    assert min(sizes_of(printed(name))) >= 7.0
    for number, run in enumerate(runs):
        assert run.x >= EDGE_MM - 0.5
        assert run.right <= 210 - EDGE_MM + 0.5
        assert run.y >= EDGE_MM - 0.5
        assert not [other for other in runs[number + 1 :] if run.meets(other)]


@pytest.mark.parametrize("name", ["by hand", "not signed", "spoilt", "meets"])
def test_all_words_are_on_the_page(name: str) -> None:
    words = flat(words_of(printed(name)))
    said = handover(SHEETS[name])

    sentences = (*said.entry, *said.decided, *said.jobs, *said.not_seen, *CAUTIONS)
    for sentence in (*sentences, *(words for _, words in said.wrong)):
        assert flat(sentence) in words


def test_forty_findings_all_stand_on_the_page() -> None:
    words = flat(words_of(printed("forty")))

    assert all(flat(it) in words for _, it in handover(SHEETS["forty"]).wrong)
    assert flat("more, on the tablet") in words


def test_what_finds_no_room_is_counted() -> None:
    words = words_of(printed("eighty"))
    said = handover(SHEETS["eighty"])

    shown = [it for _, it in said.wrong if flat(it) in flat(words)]
    left = int(words.split(" more NOT ACCEPTED")[0].rsplit(" ", 1)[-1])
    assert len(shown) + left == len(said.wrong)
    assert "and 80 more, on the tablet" in words


def test_the_same_sheet_gives_the_same_bytes() -> None:
    assert handover_sheet(SHEET) == handover_sheet(replace(SHEET))
