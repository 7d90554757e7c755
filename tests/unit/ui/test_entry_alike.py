"""Shift board, Entry, `lastrow board`, handover and round sheet: one entry, said alike by all."""

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from fieldapp.cli.board import _beside, _row
from fieldapp.report.handover import handover
from fieldapp.report.handover_words import spoken
from fieldapp.report.printed import sheet_of
from fieldapp.report.round_sheet.whole import round_sheet
from fieldapp.report.words.entry import entry_said
from fieldapp.report.words.findings import sentence
from fieldapp.ui.board_words import board_now
from fieldapp.ui.entry_words import entry_page
from fieldapp.work.board import board
from fieldapp.work.demo import READY
from fieldapp.work.demo.story import DECLINE, JUNCTION, MAIN, ORE_N
from fieldapp.work.entry import entry
from fieldapp.work.notices import restrict
from fieldapp.work.rounds import last_round, with_deviations
from fieldapp.work.site import Site
from tests.deviations import WIDE_SPACING, strap
from tests.unit.report.pages import flat, words_of
from tests.unit.work.bolt_tests.test_recording import fails
from tests.unit.work.conftest import Shift, shift

__all__ = ["shift"]

RECORDED = (MAIN, DECLINE, ORE_N, JUNCTION)
"""Headings of the demo whose last round is recorded, so that it has papers."""


def papers(site: Site, heading_id: str) -> tuple[str, str]:
    """Give the words of the handover, and of the round sheet, of a heading's last round."""
    latest = last_round(site, heading_id)
    assert latest is not None
    sheet = sheet_of(site, latest.id)
    return " ".join(handover(sheet).lines), words_of(round_sheet(sheet))


@pytest.mark.parametrize("name", RECORDED)
def test_the_entry_line_and_what_lies_beyond_are_said_alike(shift: Shift, name: str) -> None:
    site, place, now = shift.site, shift.place(name).id, shift.clock()
    said = entry_said(entry(site, place, now), "metres")
    (line,) = (it for it in board_now(site, now).lines if it.heading_id == place)
    page = entry_page(site, place, now)
    row = _row(shift.row(name), "metres")
    told, printed = papers(site, place)

    assert line.entry == f"to {said.at}"
    assert all(said.brief[0].startswith(it) for it in line.beyond[:1])
    assert [page.outbye.state, page.inbye.state] == [said.line, said.beyond]
    assert {said.line, said.beyond, said.why} <= set(row)
    assert spoken(sentence(f"entry {said.line}")) in told.replace("\N{NO-BREAK SPACE}", " ")
    assert flat(said.rest) in flat(printed).replace("From", "from")
    assert flat(f"to {said.at}") in flat(printed)


@pytest.mark.parametrize("name", RECORDED)
def test_none_of_them_lets_anybody_to_the_face(shift: Shift, name: str) -> None:
    """In each the last row stands short of the face."""
    site, place, now = shift.site, shift.place(name).id, shift.clock()
    (line,) = (it for it in board_now(site, now).lines if it.heading_id == place)
    page = entry_page(site, place, now)

    assert "accept" not in (line.verdict, page.inbye.verdict)
    assert "entry allowed" not in (page.inbye.state, *_row(shift.row(name), "metres"))


@pytest.fixture
def deviating(shift: Shift) -> Shift:
    """A round accepted over a spacing of the third row, under a deviation for 20 hours."""
    work = shift.look(WIDE_SPACING, on_disk=True)
    granted = strap(work.round_id, shift.clock() + timedelta(hours=8))
    shift.grant(granted)
    shift.sign(with_deviations(shift.site, work))
    return shift


def everything_said(shift: Shift) -> dict[str, str]:
    """Give what each of the five says of the heading whose round deviates."""
    site, place, now = shift.site, shift.place(READY).id, shift.clock()
    (line,) = (it for it in board_now(site, now).lines if it.heading_id == place)
    told, printed = papers(site, place)
    return {
        "board": line.reason[0],
        "entry": " ".join(f"{it.title} {it.detail}" for it in entry_page(site, place, now).stated),
        "terminal": " ".join(_beside(board(site, now), site.settings.units)),
        "handover": told,
        "sheet": printed,
    }


def test_a_deviation_is_named_with_its_place_and_its_end_while_it_stands(
    deviating: Shift,
) -> None:
    for where, words in everything_said(deviating).items():
        assert "bolt spacing, row 3" in words.lower(), where
        assert "17:35 UTC" in words, where


def test_a_sign_off_over_a_deviation_says_what_it_excepts(deviating: Shift) -> None:
    told = everything_said(deviating)["sheet"]

    assert "in what was looked at, except under deviation: bolt spacing, row 3; not" in told


def test_once_it_has_ended_nobody_is_told_that_it_stands(deviating: Shift) -> None:
    deviating.wait(hours=9)
    state = deviating.entry()

    assert state.deviations == ()
    assert "the deviation of round 65 has ended" in state.because


def test_a_restriction_holds_up_to_the_line_and_opens_nothing_beyond(shift: Shift) -> None:
    place, until = shift.place(MAIN).id, shift.clock() + timedelta(hours=2)
    restrict(shift.site, place, Decimal(0), shift.who(), to="bolting crew only", until=until)
    page = entry_page(shift.site, place, shift.clock())

    assert page.outbye.details == ("restricted to bolting crew only until 11:30 UTC",)
    assert page.inbye.state == "no accepted support"
    assert [it.detail for it in page.notices] == [
        "shift supervisor, 09:30 UTC · ends 11:30 UTC"
    ], "when it was stated is not taken for its end"


def test_a_restriction_that_ran_out_is_shown_as_the_barricade_it_counts_as(shift: Shift) -> None:
    place, until = shift.place(MAIN).id, shift.clock() + timedelta(hours=2)
    restrict(shift.site, place, Decimal(0), shift.who(), to="bolting crew only", until=until)
    then = until + timedelta(minutes=1)
    (notice,) = entry_page(shift.site, place, then).notices
    (line,) = (it for it in board_now(shift.site, then).lines if it.heading_id == place)

    assert (notice.verdict, notice.title) == ("no entry", "Barricaded in the whole heading")
    assert "the permission for bolting crew only ended 11:30 UTC" in notice.detail
    assert "permission has ended" in line.reason, "where the whole sentence has no room"


def test_by_a_clock_that_was_set_back_it_has_ended_all_the_same(shift: Shift) -> None:
    """The newest entry that is known tells that its time is over."""
    place, until = shift.place(MAIN).id, shift.clock() + timedelta(hours=2)
    restrict(shift.site, place, Decimal(0), shift.who(), to="bolting crew only", until=until)
    shift.wait(hours=3)
    restrict(shift.site, shift.place(READY).id, Decimal(0), shift.who(), to="light vehicles")
    (notice,) = entry_page(shift.site, place, until - timedelta(hours=1)).notices

    assert notice.verdict == "no entry"


def test_a_notice_by_a_clock_that_was_put_back_says_that_its_time_is_in_doubt(
    shift: Shift,
) -> None:
    place, now = shift.place(MAIN).id, shift.clock()
    site = replace(shift.site, now=lambda: now - timedelta(hours=3))
    restrict(site, place, Decimal(0), shift.who(), to="bolting crew only", until=now)
    assert "in doubt" not in entry_page(shift.site, place, now).stated[0].detail

    shift.site.store.holdings.seal()

    assert "time in doubt" in entry_page(shift.site, place, now).stated[0].detail


@pytest.mark.parametrize("name", RECORDED)
def test_papers_know_one_form_of_a_date(shift: Shift, name: str) -> None:
    for words in papers(shift.site, shift.place(name).id):
        assert " May 2031 " in words
        assert "2031-" not in words


def test_a_deviation_s_end_is_printed_in_that_form_too(deviating: Shift) -> None:
    told = everything_said(deviating)

    assert "6 May 2031 17:35 UTC" in told["handover"]
    assert "2031-" not in told["handover"] + told["sheet"]


def test_a_failed_test_of_support_is_named_with_its_place_by_all(shift: Shift) -> None:
    failed = fails(shift, batch="RB24-0731").known
    said = "failed proof pull at 590.4 m, back"
    because = "the anchor slipped at 85.0 kN; record its bolt as damage; test the nearest bolts"
    site, now = shift.site, shift.clock()
    (line,) = (it for it in board_now(site, now).lines if it.heading_id == failed.heading_id)
    page = entry_page(site, failed.heading_id, now)
    told, _ = papers(site, failed.heading_id)
    (row,) = (it for it in page.stated if it.failed_test)

    assert all("failed test" in it or said in it for it in line.reason)
    assert (line.reason[0].startswith(said), line.verdict) == (True, "rework")
    assert (row.title, row.failed_test) == ("Failed proof pull at 590.4 m, back", failed.id)
    assert row.detail.startswith("record its bolt as damage; test the nearest bolts")
    assert any(f"{said}: {because}" in it for it in _beside(board(site, now), "metres"))
    assert spoken(f"Failed proof pull at 590.4 m, back: {because}") in told
    fails(shift, chainage_m="594")
    (line,) = (it for it in board_now(site, shift.clock()).lines if "2 failed" in it.reason[0])
    assert line.reason[0].startswith("2 failed tests: 590.4 m, back, 594.0 m, back")
    assert all(it.startswith("2 failed tests") for it in line.reason)
