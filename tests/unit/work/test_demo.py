"""The demo mine shows each state once, and is made by the jobs of a real mine."""

from dataclasses import replace
from pathlib import Path

import pytest

from fieldapp.assess.contradictions import contradictions
from fieldapp.assess.seen import seen_in
from fieldapp.start import open_site
from fieldapp.work.board import board
from fieldapp.work.demo import DEMO_PEOPLE, READY, make_demo
from fieldapp.work.demo.story import CUDDY, DECLINE, JUNCTION, MAIN, ORE_N, ORE_S
from fieldapp.work.headings import headings
from fieldapp.work.judging import judged_bundle
from fieldapp.work.mine import MineStarted
from fieldapp.work.people import people, person, sign_in
from fieldapp.work.rounds import begin_round, open_rounds, rounds
from fieldapp.work.signatures import signatures_that_do_not_fit
from fieldapp.work.signed import sign_offs
from schemas.findings import Verdict
from tests.demo_mine import PRESENT, SetClock
from tests.unit.work.conftest import Shift


@pytest.mark.parametrize(
    ("heading", "mark", "last_round"),
    [
        (DECLINE, Verdict.NO_ENTRY, "Barricaded"),
        (MAIN, None, "Accepted"),
        (ORE_N, Verdict.REWORK, "Sent back"),
        (ORE_S, Verdict.NOT_LOOKED_AT, "Being looked at"),
        (CUDDY, Verdict.NOT_LOOKED_AT, "Not signed"),
        (READY, Verdict.NOT_LOOKED_AT, "Not signed"),
        (JUNCTION, None, "Accepted"),
    ],
)
def test_each_heading_of_the_board_is_in_another_state(
    shift: Shift, heading: str, mark: Verdict | None, last_round: str
) -> None:
    row = shift.row(heading)

    assert [row.mark, row.last_round] == [mark, last_round]


def test_a_round_of_five_rows_of_nine_waits_to_be_looked_at(shift: Shift) -> None:
    work = begin_round(shift.site, shift.place(READY).id, shift.who())
    state = shift.entry(READY)

    assert [work.seen.rows_planned, work.support_class.pattern.bolts_per_row] == [5, 9]
    assert state.verdict is Verdict.NOT_LOOKED_AT, "fired and inspected: only the look is missing"


def test_everybody_signs_in_with_the_code_that_the_screen_shows(shift: Shift) -> None:
    for who in DEMO_PEOPLE:
        session = sign_in(shift.site, person(shift.site, who.name), who.sign_code)

        assert session.roles == (who.role,)


def test_nobody_else_is_enrolled(shift: Shift) -> None:
    assert [known.body.name for known in people(shift.site)] == [who.name for who in DEMO_PEOPLE]


def test_every_recorded_round_was_signed_by_a_person(shift: Shift) -> None:
    for place in headings(shift.site):
        for known in rounds(shift.site, place.id):
            assert sign_offs(shift.site, known.id), f"{place.body.name} {known.body.number}"
    assert signatures_that_do_not_fit(shift.site) == ()


def test_no_fact_of_any_round_of_it_contradicts_another(shift: Shift) -> None:
    recorded = [
        judged_bundle(
            shift.site, known, next(iter(sign_offs(shift.site, known.id))), shift.site.now()
        )
        for place in headings(shift.site)
        for known in rounds(shift.site, place.id)
    ]
    open_now = [it.work.bundle(shift.clock()) for it in open_rounds(shift.site)]

    assert len(recorded) >= 7
    for bundle in (*recorded, *open_now):
        assert contradictions(bundle, seen_in(bundle)) == (), bundle.heading.name


def test_its_records_are_sound_and_sealed(shift: Shift) -> None:
    found = shift.site.store.check()

    assert found.segments >= 1
    assert found.waiting == 0


def test_nothing_in_it_is_of_the_future(shift: Shift) -> None:
    newest = shift.site.store.ledger.newest_made_at()

    assert newest is not None
    assert newest <= PRESENT


def test_made_twice_it_tells_the_same_story(shift: Shift, tmp_path: Path) -> None:
    """All but the tablet's own key, and what is certified of it."""
    site = open_site(tmp_path / "again", now=SetClock())
    with site.store:
        again = make_demo(site)
        first = [e.line for e in shift.site.store.ledger.all() if e.kind != "tablet"]
        second = [e.line for e in again.store.ledger.all() if e.kind != "tablet"]

    assert first == second


@pytest.mark.parametrize("year", [2020, 2049])
def test_it_can_be_made_whatever_the_clock_says(year: int, tmp_path: Path) -> None:
    site = open_site(tmp_path / "home", now=SetClock(PRESENT.replace(year=year)))
    with site.store:
        made = make_demo(site)
        verdicts = [row.entry.verdict for row in board(made, made.now())]

    assert verdicts.count(Verdict.ACCEPT) == 2


def test_a_mine_is_not_made_into_a_demo(shift: Shift) -> None:
    with pytest.raises(MineStarted):
        make_demo(replace(shift.site, now=SetClock()))
