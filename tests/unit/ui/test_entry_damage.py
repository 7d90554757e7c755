"""Damage that holds entry stands on the Entry screen in its own words, and leads to its repair."""

from pathlib import Path
from typing import Any

from fieldapp.ui.damage_work import damage_page, near, rank_words
from fieldapp.ui.entry_words import Stated, entry_page
from fieldapp.ui.rehab_work import VERIFY, rehab_lines
from fieldapp.work.damage.draft import begin_damage, begin_damage_at
from fieldapp.work.damage.stating import damage_known, damages, preview, record_damage
from fieldapp.work.demo.story import MAIN
from fieldapp.work.headings import heading
from fieldapp.work.rehab.steps import Done, finish, plan, plan_of, start
from fieldapp.work.rehab.verified import reopen, verify
from schemas.bodies.damage import Damage
from schemas.bodies.rehab import Barricade
from tests.demo_mine import CODES, PRESENT, SetClock, open_demo, session


def tear(place: str, **said: Any) -> Damage:
    body = {
        "heading": place,
        "seen_at": PRESENT,
        "chainage_m": "590.4",
        "zone": "right shoulder",
        "kind": "torn mesh",
        "exposure": "E3",
    }
    return Damage.model_validate(body | said)


def shown(folder: Path, **said: Any) -> tuple[str, list[Stated]]:
    """Give the id of a damage and what the Entry screen shows of it."""
    site = open_demo(folder / "home", SetClock())
    with site.store:
        place = heading(site, MAIN).id
        kept = record_damage(site, tear(place, **said), None)
        page = entry_page(site, place, PRESENT)
    return kept.id, [it for it in page.stated if it.damage]


def test_it_says_what_it_is_who_stays_out_and_by_when_it_is_repaired(tmp_path: Path) -> None:
    damage_id, (told,) = shown(tmp_path, severity="S3")

    assert told.damage == damage_id
    assert (told.verdict, told.title) == ("rework", "Torn mesh at 590.4 m, right shoulder")
    words = told.detail.replace("\N{NO-BREAK SPACE}", " ")
    assert words == "nobody on foot beneath · P2, due 13 May 2031 · no repair planned"


def test_that_the_way_in_is_restricted_is_said_in_whatever_room_there_is(tmp_path: Path) -> None:
    site = open_demo(tmp_path / "home", SetClock())
    with site.store:
        place = heading(site, MAIN).id
        record_damage(site, tear(place, severity="S3", extent={"openings": 3}), None)
        details = entry_page(site, place, PRESENT).outbye.details

    assert details[0].endswith("until it is measured again")
    assert details[-1] == "restricted"


def test_what_the_table_closes_is_explained_by_the_table_first(tmp_path: Path) -> None:
    """The hole only keeps people on foot away: it does not say why nobody goes there at all."""
    site = open_demo(tmp_path / "home", SetClock())
    with site.store:
        damage = tear(heading(site, MAIN).id, severity="S3", extent={"openings": 3}, exposure=None)
        words = rank_words(site, preview(site, damage, None))

    assert words.state == "nobody beneath"
    assert words.fitting[0].startswith("S3 ")
    assert "nobody on foot beneath until patched: hole of 3 openings" in words.fitting[0]


def test_behind_a_repair_s_barrier_nobody_goes_whatever_the_damage_allows(tmp_path: Path) -> None:
    site = open_demo(tmp_path / "home", SetClock())
    with site.store:
        place = heading(site, MAIN).id
        kept = record_damage(site, tear(place, severity="S3"), None)
        by = session(site, "Geotechnical engineer")
        repair = plan(site, plan_of(damage_known(site, kept.id, PRESENT), "bar down, sheet"), by)
        planned = rehab_lines(site)[0].rank
        by = session(site, "Day supervisor")
        start(site, repair.id, by, barricade=Barricade(who="crew A", where="585 m"))
        in_hand = rehab_lines(site)[0].rank

    assert (planned.state, planned.verdict) == ("nobody on foot beneath", "rework")
    assert (in_hand.state, in_hand.verdict) == ("nobody beneath", "no entry")


def test_a_key_that_is_dark_says_whose_it_is(tmp_path: Path) -> None:
    site = open_demo(tmp_path / "home", SetClock())
    with site.store:
        kept = record_damage(site, tear(heading(site, MAIN).id, severity="S3"), None)
        day, bolter = session(site, "Day supervisor"), session(site, "Bolter, crew A")
        engineer = session(site, "Geotechnical engineer")
        (first, *_more) = rehab_lines(site)[0].acts(day)
        known = damage_known(site, kept.id, PRESENT)
        repair = plan(site, plan_of(known, "bar down, sheet"), engineer)
        start(site, repair.id, day, barricade=Barricade(who="crew A", where="585 m"))
        finish(site, repair.id, day, Done("restored", no_photo_because="the camera failed"))
        line = rehab_lines(site)[0]

    assert first.title == "Propose repair"
    whose = [line.why_not(VERIFY, who) for who in (None, bolter, day, engineer)]
    assert whose == ["sign in first", "supervisor or technician", "you did the work", ""]


def test_damage_that_is_seen_again_keeps_its_rank_before_it_is_judged_anew(tmp_path: Path) -> None:
    site = open_demo(tmp_path / "home", SetClock())
    with site.store:
        place = heading(site, MAIN).id
        kept = record_damage(site, tear(place, severity="S3"), None)
        again = damage_page(site, begin_damage(site, place, kept.id), None)

    assert again.rank.title == "P2, due 13 May 2031"


def test_damage_that_leaves_entry_open_is_on_the_rehab_list_alone(tmp_path: Path) -> None:
    _, told = shown(tmp_path, severity="S1", kind="rusted")

    assert told == []


def test_what_is_offered_as_seen_before_is_of_that_zone_or_beside_it_and_its_kind_leads(
    tmp_path: Path,
) -> None:
    """A tear in the right wall is none in the back; a shoulder is easily taken for the back."""
    site = open_demo(tmp_path / "home", SetClock())
    with site.store:
        place = heading(site, MAIN).id
        rusted = record_damage(site, tear(place, zone="back", kind="rusted"), None)
        torn = record_damage(site, tear(place, zone="left shoulder", chainage_m="591"), None)
        record_damage(site, tear(place, zone="right wall"), None)
        work = begin_damage_at(
            site, place, {"kind": "torn mesh", "zone": "back", "chainage_m": "590.4"}
        )
        offered = near(site, work, damages(site, PRESENT, place))

    assert [it.id for it in offered] == [torn.id, rusted.id]


def test_a_code_of_the_card_stands_beside_what_it_means(tmp_path: Path) -> None:
    site = open_demo(tmp_path / "home", SetClock())
    with site.store:
        record_damage(site, tear(heading(site, MAIN).id, severity="S3"), None)
        (line,) = rehab_lines(site)

    assert line.seen == ("6 May 2031: torn mesh, S3 some lost",)
    assert line.observed[0].told.startswith("torn mesh, S3 some lost, ")


def test_a_verified_repair_says_who_looked_at_it_and_bears_no_due_date(tmp_path: Path) -> None:
    site = open_demo(tmp_path / "home", SetClock())
    with site.store:
        kept = record_damage(site, tear(heading(site, MAIN).id, severity="S3"), None)
        day, engineer = session(site, "Day supervisor"), session(site, "Geotechnical engineer")
        repair = plan(site, plan_of(damage_known(site, kept.id, PRESENT), "sheet"), engineer)
        start(site, repair.id, day, barricade=Barricade(who="crew A", where="585 m"))
        finish(site, repair.id, day, Done("restored", lap_openings=3, after=("photo",)))
        verify(site, repair.id, engineer, CODES["Geotechnical engineer"], barrier_down=True)
        verified = rehab_lines(site)[0]
        reopen(site, repair.id, None, because="a plate is loose")
        reopened = rehab_lines(site)[0]

    told = "verified 6 May 2031 09:30 UTC by Geotechnical engineer"
    assert verified.done[0] == told
    assert (verified.rank.title, verified.rank.verdict) == (
        "restored, and verified by somebody else",
        "accept",
    )
    assert reopened.done[0] == "reopened 6 May 2031 09:30 UTC by somebody not signed in"
    assert reopened.rank.verdict == "no entry"
