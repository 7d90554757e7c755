"""The round sheet: one page, every word that counts, nothing over anything else."""

import re
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from functools import cache

import pytest

from fieldapp.assess.entry.state import Coverage, Doubt, EntryState, Reason
from fieldapp.report.round_sheet.blocks import EDGE_MM, SMALLEST_PT
from fieldapp.report.round_sheet.facts import facts
from fieldapp.report.round_sheet.foot import CAUTIONS
from fieldapp.report.round_sheet.whole import LETTER, round_sheet
from fieldapp.report.words.findings import limit, measured, verdict_words
from schemas.bodies.round import FaceNearer
from schemas.findings import Verdict
from tests.unit.assess.conforming import conforming, loose, missing, with_bolts, with_round
from tests.unit.report.examples import (
    ACCEPTED,
    JUDGED,
    LONG_NAME,
    MEETS,
    SHEET,
    SIGN_OFF,
    UNSIGNED,
    crowded,
    in_feet,
    judged,
    judged_sheet,
    many,
)
from tests.unit.report.pages import flat, reader_of, runs_of, sizes_of, words_of

SPOILT = with_bolts(with_bolts(conforming("D1", 3), 2, missing(7)), 1, loose(4))
IN_DOUBT = Doubt("RB24-0731", "sets too slowly", ((False, 87),), "an engineer decides until 09:30")
KEPT = Doubt(
    "RES-0118", "2.1 m in packs of 2.4 m", ((False, 87),), "an engineer keeps it in doubt"
)
NEARER = FaceNearer(
    known_m=Decimal("1392.00"),
    read_m=Decimal("1389.90"),
    why="the advance was less than was reported",
)
SHEETS = {
    "not accepted": SHEET,
    "demo": replace(SHEET, demo=True),
    "not signed": UNSIGNED,
    "letter": replace(SHEET, paper=LETTER),
    "meets": replace(SHEET, assessment=MEETS),
    "one finding": replace(SHEET, assessment=judged(many(1)[0], *ACCEPTED)),
    "spoilt": judged_sheet(SPOILT),
    "half looked at": judged_sheet(with_round(SPOILT, rows_planned=6)),
    "not accepted, in feet": in_feet(SHEET),
    "spoilt, in feet": in_feet(judged_sheet(SPOILT)),
    "a hundred, in feet": in_feet(crowded(100)),
    "in doubt": replace(SHEET, doubts=(IN_DOUBT, KEPT)),
    "a hundred, in doubt": replace(crowded(100), doubts=(IN_DOUBT, KEPT)),
    "staggered": judged_sheet(conforming("O2", 4)),
    "face nearer": judged_sheet(conforming("D1", 3, face_nearer=NEARER)),
    "a dozen": crowded(12),
    "twenty": crowded(20),
    "forty": crowded(40),
    "forty on letter": replace(crowded(40), paper=LETTER),
    "a hundred": crowded(100),
}
pages = pytest.mark.parametrize("name", SHEETS)


def test_who_installed_it_is_named_crew_and_people() -> None:
    named = replace(SHEET, installers=("Night supervisor",))
    crew = SHEET.bundle.round.bolter.crew

    assert ("Installed by", f"{crew}, Night supervisor") in facts(named)
    assert ("Installed by", crew) in facts(SHEET)


def test_why_the_face_is_nearer_than_it_was_fired_to_is_printed() -> None:
    said = "not at 1 392.0 m: the advance was less than was reported"
    words = words_of(round_sheet(SHEETS["face nearer"]))

    assert said in words
    assert "not at" not in words_of(round_sheet(judged_sheet(conforming("D1", 3))))


def test_a_reason_for_another_reading_is_not_printed() -> None:
    other = NEARER.model_copy(update={"read_m": Decimal("1390.20")})

    assert "Face" not in dict(facts(judged_sheet(conforming("D1", 3, face_nearer=other))))


@pytest.mark.parametrize("name", ["in doubt", "a hundred, in doubt"])
def test_every_batch_in_doubt_is_said_with_who_decides_and_why(name: str) -> None:
    said = flat(words_of(printed(name)))

    for doubt in (IN_DOUBT, KEPT):
        words = f"Batch {doubt.batch} is in doubt: {doubt.waits}; {doubt.reason}."
        assert flat(words) in said


@cache
def printed(name: str) -> bytes:
    return round_sheet(SHEETS[name])


@pages
def test_a_sheet_is_one_page(name: str) -> None:
    assert len(reader_of(printed(name)).pages) == 1


@pages
def test_no_words_lie_over_others(name: str) -> None:
    runs = runs_of(printed(name))

    over = [
        (one.text, other.text)
        for number, one in enumerate(runs)
        for other in runs[number + 1 :]
        if one.meets(other)
    ]
    assert over == []


@pages
def test_no_words_leave_the_paper_or_its_edges(name: str) -> None:
    paper = SHEETS[name].paper
    slack = 0.5  # a size is rounded to a hundredth of a point; the last baseline hangs lower

    for run in runs_of(printed(name)):
        assert run.x >= EDGE_MM - slack, run
        assert run.right <= paper.wide_mm - EDGE_MM + slack, run
        assert run.y >= EDGE_MM - slack, run
        assert run.top <= paper.high_mm - EDGE_MM + 1.0, run


@pages
def test_no_letters_are_smaller_than_promised(name: str) -> None:
    assert min(sizes_of(printed(name))) >= SMALLEST_PT


@pages
def test_every_sheet_says_who_decided_where_entry_ends_and_the_cautions(name: str) -> None:
    sheet, words = SHEETS[name], flat(words_of(printed(name)))

    decided = sheet.sign_off.decision.upper() if sheet.sign_off else "NOTSIGNED"
    assert flat(decided) in words
    assert flat(sheet.bundle.heading.name) in words
    assert f"Round{sheet.bundle.round.number}" in words
    assert flat(sheet.bundle.standard.name) in words
    for caution in CAUTIONS:
        assert flat(caution) in words
    assert all(group in words for group in sheet.code.readable.split("-"))


@pytest.mark.parametrize(
    "name", ["not accepted", "spoilt", "staggered", "a dozen", "letter", "spoilt, in feet"]
)
def test_every_finding_stands_there_with_value_limit_place_and_reason(name: str) -> None:
    sheet, words = SHEETS[name], flat(words_of(printed(name)))

    for finding in sheet.assessment.findings:
        assert flat(finding.title) in words
        assert flat(measured(finding)) in words
        if finding.verdict is not Verdict.ACCEPT:
            assert flat(verdict_words(finding)) in words
            assert flat(finding.because) in words
            assert flat(finding.places[0].words if finding.places else "") in words
            bare = finding.limit or ""
            short = bare.replace("at most", "≤").replace("at least", "≥")
            assert flat(limit(finding)) in words or flat(short) in words


METRIC = re.compile(r"\d[ \u00a0](m|mm)\b")


@pytest.mark.parametrize("name", [name for name in SHEETS if "feet" in name])
def test_a_mine_that_reads_feet_is_printed_no_metre(name: str) -> None:
    words = words_of(printed(name))

    assert METRIC.findall(words) == []
    assert "Round 412 · 4 548 ft 7 in to" in words or "Round 214 · 4 548 ft 7 in to" in words
    # 1386.40 m is 4548 ft 6.68 in: an entry line goes down
    assert "4 548 ft 6 in" in words
    assert "10 ft · 1 : 100" in words or "20 ft · 1 : " in words


def test_the_worst_comes_first() -> None:
    words = words_of(printed("not accepted"))

    told = [it.title for it in JUDGED.findings if it.verdict is not Verdict.ACCEPT]
    begins = words.index("Findings, the worst first")
    assert told == sorted(told, key=lambda title: words.index(title, begins))


def test_forty_findings_that_are_not_accepted_all_stand_on_one_page() -> None:
    sheet, words = SHEETS["forty"], words_of(printed("forty"))

    for finding in sheet.assessment.findings[:40]:
        assert finding.title in words
        assert measured(finding).replace("\u00a0", " ") in words
    assert "12 findings accepted, on the tablet" in words
    assert "40 jobs, on the tablet" in words
    assert "NOT ACCEPTED" not in words
    assert flat(LONG_NAME[:60]) in flat(words)


def test_findings_that_find_no_room_are_counted_and_the_worst_stay() -> None:
    sheet = crowded(150)
    words = words_of(round_sheet(sheet))

    not_accepted = sheet.assessment.findings[:150]
    printed = [it for it in not_accepted if f"{it.title} ·" in words]
    left = int(words.split(" more NOT ACCEPTED")[0].rsplit(" ", 1)[-1])
    assert len(printed) + left == 150
    assert printed == list(not_accepted[: len(printed)])
    assert left > 0


def test_what_was_not_looked_at_is_said_plainly() -> None:
    words = words_of(printed("not accepted"))

    assert "Not looked at Bolts present, row 3 (row 3)." in words
    assert "not looked at, held as no entry" in words


def test_what_no_look_can_show_is_said_before_anybody_signs() -> None:
    words = words_of(printed("not signed"))

    assert "No look can show Bond, hidden length, grout, ground behind mesh." in words


def test_the_signature_says_who_in_which_role_when_and_what_they_state() -> None:
    words = words_of(printed("not accepted"))

    # 03:47 UTC at the mine's UTC+3.
    assert "A. Supervisor, shift supervisor · 3 Mar 2026 06:47 UTC+03:00" in words
    assert f"“{SIGN_OFF.states}”" in words
    assert SIGN_OFF.says[0].upper() + SIGN_OFF.says[1:] in words


def test_a_sheet_without_a_signature_allows_nothing() -> None:
    words = words_of(printed("not signed"))

    assert "NOT SIGNED" in words
    assert "A sheet without a signature allows no entry." in words
    assert "ACCEPTED" not in words
    assert 21.0 in {
        run.size_pt for run in runs_of(printed("not signed")) if run.text == "NOT SIGNED"
    }


def test_a_demo_is_marked_across_the_sheet_and_a_real_mine_is_not() -> None:
    across = "DEMO · WORKED EXAMPLE"

    demo = [run.text for run in runs_of(printed("demo"), watermark=True)]
    real = [run.text for run in runs_of(printed("not accepted"), watermark=True)]
    assert across in demo
    assert across not in real
    assert "Round sheet of a worked example" in " ".join(demo)


def test_the_entry_line_is_the_headings_own_where_it_is_known() -> None:
    state = EntryState(
        line_m=Decimal("1384.60"),
        face_m=Decimal("1389.90"),
        state="barricaded",
        outbye="entry allowed",
        verdict=Verdict.NO_ENTRY,
        reasons=(Reason("seismic at 1390.0 m: until somebody inspects", "barricaded"),),
        until=None,
        cut_off=False,
        metres_not_signed=Decimal(0),
        coverage=Coverage(Decimal(0), Decimal(0)),
    )
    words = words_of(round_sheet(replace(SHEET, entry=state)))

    assert "Entry, nobody beyond to 1 384.6 m From there to the face at 1 389.9 m:" in words
    assert "barricaded, seismic at 1390.0 m: until somebody inspects. As at 3 Mar 2026" in words


def test_deviations_are_printed_with_their_findings() -> None:
    under = many(2)[1].model_copy(update={"deviation": "row 2, bolt 7, until 06:00: blocked hole"})
    words = words_of(round_sheet(replace(SHEET, assessment=judged(under, *ACCEPTED))))

    assert "rework, under a deviation" in words
    assert f"Under a deviation {under.title}, row 2, bolt 7, until 06:00: blocked hole." in words


@pages
def test_all_letters_are_embedded_and_subset(name: str) -> None:
    resources = reader_of(printed(name)).pages[0]["/Resources"]
    assert isinstance(resources, dict)

    fonts = [font.get_object() for font in resources["/Font"].values()]
    assert len(fonts) >= 2
    for font in fonts:
        (descendant,) = font["/DescendantFonts"]
        descriptor = descendant.get_object()["/FontDescriptor"]
        assert "/FontFile2" in descriptor
        # ISO 32000-1, 9.6.4: six letters and a plus sign mark a subset.
        assert descriptor["/FontName"][7] == "+"


def test_letters_of_other_scripts_are_printed_with_the_other_font() -> None:
    words = words_of(round_sheet(replace(SHEET, signed_by="Δήμος Ў")))

    assert flat("Δήμος Ў, shift supervisor") in flat(words)


def test_the_same_sheet_gives_the_same_bytes() -> None:
    assert round_sheet(SHEET) == round_sheet(replace(SHEET))


def test_another_time_of_printing_gives_other_bytes() -> None:
    later = replace(SHEET, printed_at=SHEET.printed_at + timedelta(minutes=1))

    assert round_sheet(later) != round_sheet(SHEET)


def test_a_small_round_is_drawn_at_one_to_seventy_five() -> None:
    assert "1 : 75 both ways" in words_of(printed("meets"))
