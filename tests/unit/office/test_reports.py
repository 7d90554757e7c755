"""What reports are told is what was stated, counted here by hand from the entries themselves."""

from collections.abc import Iterable
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

from fieldapp.report.words.entry import entry_said
from fieldapp.work.demo.story import DECLINE, MAIN, ORE_N
from fieldapp.work.entry import entry as entry_at
from fieldapp.work.headings import headings
from schemas.entry import Entry, corrected, new_entry
from tests.demo_mine import PRESENT, SetClock, open_demo
from tests.made import thing_id
from tests.office import ask, column, demo_records, fill
from tests.unit.office.conftest import DemoOffice
from tests.unit.office.stating import person_id, said, stated, stricter_standard, two_corrections


def heading_names() -> dict[str, str]:
    return {it.id: str(it.body["name"]) for it in stated("heading")}


def part(entry: Entry, name: str) -> list[dict[str, Any]]:
    """Give a list in a body, as JSON has it."""
    found: Any = entry.body.get(name, [])
    return list(found)


# --- counted by hand -----------------------------------------------------------------------------


def test_every_round_stands_there_once_with_its_decision(filled: str) -> None:
    names = heading_names()
    decided = {it.body["round_revision"]: it.body["decision"] for it in stated("sign_off")}
    by_hand = sorted(
        (names[str(it.body["heading"])], it.body["number"], decided[it.revision])
        for it in stated("round")
    )

    found = ask(filled, "SELECT heading, number, decision FROM rounds").rows

    assert sorted(found) == by_hand
    assert len(by_hand) == 9


def test_as_many_plates_are_seated_as_were_counted(filled: str) -> None:
    by_hand = {
        it.id: sum(row["counted"]["plates"] for row in part(it, "rows")) for it in stated("round")
    }

    query = "SELECT round_id, sum(CASE WHEN plated THEN 1 ELSE 0 END) FROM bolts GROUP BY round_id"

    assert dict(ask(filled, query).rows) == by_hand


def test_as_many_bolts_are_there_as_were_counted_or_marked(filled: str) -> None:
    """Plates are counted where they are seated; a bolt with a loose plate is marked besides."""
    by_hand = {
        it.id: sum(
            row["counted"]["plates"]
            + sum(bolt["state"] == "present" and bolt["plate"] != "seated" for bolt in marks(row))
            for row in part(it, "rows")
        )
        for it in stated("round")
    }

    query = "SELECT round_id, count(*) FROM bolts WHERE state = 'present' GROUP BY round_id"

    assert dict(ask(filled, query).rows) == by_hand


def marks(row: dict[str, Any]) -> Iterable[dict[str, Any]]:
    return list(row.get("bolts", []))


def test_the_two_missing_bolts_are_where_they_were_marked(filled: str) -> None:
    query = """SELECT heading, bolt_row, bolt_position, plate_seated FROM bolts
               WHERE state = 'missing'"""

    assert sorted(ask(filled, query).rows) == [(DECLINE, 2, 6, None), (DECLINE, 2, 7, None)]


def test_the_loose_plate_is_where_it_was_marked(filled: str) -> None:
    query = "SELECT heading, bolt_row, bolt_position FROM bolts WHERE NOT plated AND counts"

    assert ask(filled, query).rows == [(ORE_N, 1, 5)]


def test_laps_are_as_they_were_read(filled: str) -> None:
    by_hand = sorted(
        (it.id, lap["number"], lap.get("openings"), float(lap["least_mm"]) if "least_mm" in lap
         else None)
        for it in stated("round") for lap in part(it, "laps")
    )  # fmt: skip

    found = ask(filled, "SELECT round_id, lap, openings, least_mm FROM laps").rows

    assert sorted(found) == by_hand


def test_a_short_lap_is_shorter_than_demanded(filled: str) -> None:
    query = "SELECT heading, lap, width_mm FROM laps WHERE width_mm < demanded_mm"

    assert ask(filled, query).rows == [(ORE_N, 1, 210.0)]


def test_events_are_as_they_were_stated(filled: str) -> None:
    by_hand = sorted(
        (it.id, it.body["what"], float(str(it.body["chainage_m"]))) for it in stated("event")
    )

    found = ask(filled, "SELECT event_id, what, chainage_m FROM events").rows

    assert sorted(found) == by_hand
    assert len(column(filled, "SELECT 1 FROM events WHERE inspected_at IS NOT NULL")) == 12


def test_everybody_who_was_enrolled_is_there(filled: str) -> None:
    by_hand = sorted(str(it.body["name"]) for it in demo_records().people)

    assert sorted(column(filled, "SELECT name FROM people WHERE ended_at IS NULL")) == by_hand


# --- judged again --------------------------------------------------------------------------------


def test_every_round_is_judged_alike_as_when_it_was_signed(filled: str) -> None:
    assert column(filled, "SELECT judged_alike FROM sign_offs") == [True] * 9


def test_findings_name_what_is_wrong_with_its_place(filled: str) -> None:
    query = """SELECT heading, check_name, verdict FROM findings
               WHERE shown AND verdict NOT IN ('accept') ORDER BY heading, list_place"""

    assert ask(filled, query).rows == [
        (ORE_N, "largest_gap", "rework"),  # a bolt with a loose plate holds no mesh
        (ORE_N, "plates_seated", "rework"),
        (ORE_N, "mesh_lap", "rework"),
        (ORE_N, "load", "measure again"),
        (DECLINE, "neighbouring_bolts", "no entry"),
        (DECLINE, "largest_gap", "no entry"),
        (DECLINE, "bolts_present", "rework"),
        (DECLINE, "load", "rework"),
        (DECLINE, "mesh_panel", "rework"),  # round two missing bolts the mesh is one bay
    ]


def test_a_finding_says_by_which_method_and_as_at_when(filled: str) -> None:
    from fieldapp.assess.whole import METHOD_VERSION

    assert set(column(filled, "SELECT method_version FROM findings")) == {METHOD_VERSION}
    judged = "SELECT DISTINCT f.judged_as_at = s.judged_at FROM findings AS f JOIN sign_offs AS s"
    assert column(filled, f"{judged} ON s.round_revision = f.round_revision") == [True]


def test_a_standard_in_force_that_the_tablet_did_not_have_yet_judges_beside_the_one_shown(
    going_on: DemoOffice,
) -> None:
    address, share = going_on.address, going_on.share
    share.seal(share.tablets[2], stricter_standard(PRESENT - timedelta(hours=6)))

    worked = fill(address, share.place).worked

    query = """SELECT heading, number, verdict_shown, verdict_in_force, standard_in_force
               FROM rounds WHERE standard_shown <> standard_in_force ORDER BY heading, number"""
    (found, *_) = [row for row in ask(address, query).rows if row[0] == MAIN]
    assert found[2:] == ("accept", "rework", "S-2 revision 6")
    older = "SELECT count(*) FROM rounds WHERE standard_shown = standard_in_force"
    assert column(address, older) == [9 - worked.judged]
    assert 0 < worked.judged < 9


def test_a_standard_of_somebody_who_is_no_engineer_judges_nothing(going_on: DemoOffice) -> None:
    address, share = going_on.address, going_on.share
    made = stricter_standard(PRESENT - timedelta(hours=6))
    by_a_bolter = new_entry(
        "standard", 1, thing_id(8), made.body, said(person_id("Bolter, crew A"), PRESENT)
    )
    share.seal(share.tablets[0], by_a_bolter)

    fill(address, share.place)

    assert not column(address, "SELECT 1 FROM rounds WHERE standard_shown <> standard_in_force")


# --- where people may go -------------------------------------------------------------------------


def test_entry_and_coverage_are_what_a_tablet_with_all_entries_says(
    filled: str, tmp_path: Path
) -> None:
    site = open_demo(tmp_path / "home", SetClock())
    with site.store:
        by_tablet = {}
        for known in headings(site):
            it = entry_at(site, known.id, PRESENT)
            said = entry_said(it, "metres")
            facts = (float(it.line_m), said.beyond or None, it.mark, float(it.coverage.signed_m))
            by_tablet[known.body.name] = (*facts, float(it.coverage.fired_m))

    query = """SELECT e.heading, e.line_m, e.beyond, e.mark, c.signed_m, c.fired_m
               FROM entry AS e JOIN coverage AS c ON c.heading = e.heading"""

    assert {row[0]: row[1:] for row in ask(filled, query).rows} == by_tablet


def test_coverage_is_metres_signed_over_metres_fired(filled: str) -> None:
    """4180 Main was fired once, 3.6 m, and its one round was accepted with a face read 2 cm on."""
    query = f"SELECT signed_m, fired_m, share, rounds FROM coverage WHERE heading = '{MAIN}'"  # noqa: S608

    assert ask(filled, query).rows == [(3.62, 3.62, 1.0, 1)]


def test_entry_is_as_at_the_time_of_collating(going_on: DemoOffice) -> None:
    later = PRESENT + timedelta(days=1)
    fill(going_on.address, going_on.share.place, at=later)

    assert set(column(going_on.address, "SELECT as_at FROM entry")) == {
        later.isoformat("T", "microseconds")
    }


# --- several revisions ---------------------------------------------------------------------------


def test_two_corrections_of_one_thing_stand_side_by_side_until_somebody_settles_them(
    going_on: DemoOffice,
) -> None:
    address, share = going_on.address, going_on.share
    first, second, _ = share.tablets
    one, other = two_corrections()
    share.seal(first, one)
    share.seal(second, other)
    fill(address, share.place)
    query = "SELECT kind, revision, tablet FROM conflicts"
    assert sorted(ask(address, query).rows) == sorted(
        [("heading", one.revision, "tablet 1"), ("heading", other.revision, "tablet 2")]
    )

    settled = corrected(
        one, {"level": "4181"}, said(person_id("Records keeper"), PRESENT), settles=(other,)
    )
    share.seal(first, settled)
    fill(address, share.place)

    assert not column(address, query)
    assert column(address, f"SELECT level FROM rounds WHERE heading = '{MAIN}'") == ["4181"]  # noqa: S608


def test_a_text_that_postgresql_could_not_keep_is_told_all_the_same(going_on: DemoOffice) -> None:
    address, share = going_on.address, going_on.share
    event = stated("event")[0]
    odd = replace(event)
    body = {**odd.body, "note": "water\0everywhere"}
    share.seal(
        share.tablets[0],
        new_entry("event", 1, thing_id(9), body, said(person_id("Day supervisor"), PRESENT)),
    )

    fill(address, share.place)

    assert "water\N{REPLACEMENT CHARACTER}everywhere" in column(address, "SELECT note FROM events")
