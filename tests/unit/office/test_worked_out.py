"""Only what is new is worked out, and what is worked out is the same, whichever way it came."""

from pathlib import Path
from random import Random

import pytest

from fieldapp.store.office import open_office
from fieldapp.store.office.projected import Overtaken, Projected
from fieldapp.work import office_lines
from fieldapp.work.collating import AsAt, Keys, collate_share, work_out_reports
from fieldapp.work.demo.story import MAIN
from schemas.entry import new_entry
from sync.places import open_folder
from tests.demo_mine import PRESENT
from tests.made import thing_id
from tests.office import (
    Filled,
    Share,
    demo_records,
    demo_share,
    everything,
    fill,
    tablets,
)
from tests.unit.office.conftest import SQLITE, DemoOffice, FilledOnce, MakeAddress
from tests.unit.office.stating import person_id, said, stated, stricter_standard, two_corrections

SEED = 20310506
LOOKED_AT = 0.4
"""How often it is worked out at once beside."""


def test_what_is_worked_out_step_by_step_is_what_is_worked_out_at_once(
    new_address: MakeAddress, tmp_path: Path
) -> None:
    chance = Random(SEED)  # noqa: S311 - an order, no secret
    records, three = demo_records(), tablets()
    share = Share(tmp_path / "share", records.root)
    waiting = [*records.entries, *two_corrections(), stricter_standard(PRESENT)]
    chance.shuffle(waiting)
    acts = [
        lambda: share.state(*records.people),
        lambda: share.enrol(*three[:2]),
        lambda: share.enrol(three[2]),
        lambda: share.revoke(three[0], valid_through=2),
    ]
    address = new_address()
    while waiting or acts:
        for _ in range(chance.randint(1, 4)):
            some, waiting = waiting[:6], waiting[6:]
            if some:
                share.seal(chance.choice(three), *some)
        if (acts and chance.random() < 0.6) or (not waiting and acts):
            acts.pop(0)()
        fill(address, share.place)
        if chance.random() < LOOKED_AT or not (waiting or acts):
            at_once = new_address()
            fill(at_once, share.place)
            assert everything(address) == everything(at_once)


def test_whoever_began_later_works_it_out_and_the_earlier_one_stops(
    address: str, filled_once: FilledOnce, tmp_path: Path
) -> None:
    share, at_once = demo_share(tmp_path / "share"), filled_once(SQLITE).address
    later: list[Filled] = []

    def begin_another(_: object) -> None:
        if not later:
            later.append(fill(address, share.place))

    with open_office(address) as office:
        collated = collate_share(office, open_folder(str(share.place)), Keys())
        earlier = work_out_reports(office, collated.identity, AsAt(PRESENT), watch=begin_another)

    assert earlier.overtaken
    assert not later[0].worked.overtaken
    assert everything(address) == everything(at_once)


def test_nothing_worked_out_of_fewer_entries_takes_the_place_of_what_is_there(
    address: str, tmp_path: Path
) -> None:
    share = demo_share(tmp_path / "share")
    with open_office(address) as office:
        earlier = Projected(office.database)
        earlier.make_ready(office_lines.VERSION)
        fill(address, share.place)
        before = everything(address)

        with pytest.raises(Overtaken):
            earlier.put_mine(())

    assert everything(address) == before


def test_a_round_is_not_judged_again_for_nothing(going_on: DemoOffice) -> None:
    share = going_on.share
    engineer = person_id("Geotechnical engineer")
    (main,) = [it for it in stated("heading") if it.body["name"] == MAIN]
    body = {**stated("event")[0].body, "heading": main.id}
    share.seal(share.tablets[0], new_entry("event", 1, thing_id(9), body, said(engineer, PRESENT)))

    worked = fill(going_on.address, share.place).worked

    assert (worked.headings, worked.judged) == (1, 0)


def test_another_method_of_judging_works_everything_out_anew(
    going_on: DemoOffice, monkeypatch: pytest.MonkeyPatch
) -> None:
    address, share = going_on.address, going_on.share
    before = everything(address)
    monkeypatch.setattr(office_lines, "VERSION", "next")

    worked = fill(address, share.place).worked

    assert (worked.headings, worked.judged) == (7, 9)
    assert everything(address) == before
