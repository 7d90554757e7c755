"""What is kept of a heading is what its entries come to, never more."""

from dataclasses import replace
from decimal import Decimal

import pytest
from pydantic import TypeAdapter
from sqlalchemy import text

from fieldapp.store.gathered import Gathered
from fieldapp.work.events import report_event
from fieldapp.work.gathering import HeadingRecord, gathered
from fieldapp.work.heading_record import gathered_again, heading_record
from fieldapp.work.headings import headings
from fieldapp.work.people import person, revoke
from schemas.bodies.sign_off import Decision
from sync.durable import DiskFull
from tests.demo_mine import CODES
from tests.unit.work.conftest import Shift

METRE = Decimal("1.00")


def records(shift: Shift) -> dict[str, object]:
    return {it.body.name: heading_record(shift.site, it.id) for it in headings(shift.site)}


def anew(shift: Shift) -> dict[str, object]:
    return {it.body.name: gathered(shift.site, it.id) for it in headings(shift.site)}


def test_what_was_kept_reads_back_as_it_was_gathered(shift: Shift) -> None:
    records(shift)

    assert records(shift.reopened()) == anew(shift)


@pytest.mark.parametrize("decision", ["accepted", "sent back", "barricaded"])
def test_a_sign_off_is_seen_at_once(shift: Shift, decision: Decision) -> None:
    records(shift)

    shift.sign(shift.look(on_disk=True), decision)

    last = heading_record(shift.site, shift.place().id).last_rounds[-1]
    assert last.decisions == (decision,)
    assert records(shift) == anew(shift)


def test_an_event_is_seen_at_once(shift: Shift) -> None:
    before = heading_record(shift.site, shift.place().id)

    report_event(shift.site, shift.place().id, "fired", before.face_m, None, fired_m=METRE)

    after = heading_record(shift.site, shift.place().id)
    assert after.face_m == before.face_m + METRE
    assert after.last_fired_at == shift.clock()


def test_an_enrolment_concerns_every_heading(shift: Shift) -> None:
    site, supervisor = shift.site, person(shift.site, "Day supervisor")
    records(shift)

    revoke(site, supervisor, site_code=CODES["site"])

    assert records(shift) == anew(shift)


def test_what_was_kept_is_not_gathered_again(
    shift: Shift, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept = records(shift)
    monkeypatch.setattr("fieldapp.work.heading_record.gathered", None)

    assert records(shift.reopened()) == kept


def test_somebody_elses_words_in_its_place_are_found_out(shift: Shift) -> None:
    place = shift.place()
    honest = heading_record(shift.site, place.id)
    with shift.site.store.database.reading() as connection:
        (state,) = connection.execute(
            text("SELECT state FROM gathered WHERE heading = :it"), {"it": place.id}
        ).scalars()
    milder = replace(honest, face_m=Decimal(9999))
    content = TypeAdapter(HeadingRecord).dump_json(milder)
    shift.site.store.gathered.keep(place.id, state, content)

    site = shift.reopened().site
    assert heading_record(site, place.id) == milder
    assert not gathered_again(site, place.id)
    assert records(shift.reopened())[place.body.name] == honest


def test_a_full_disk_keeps_nobody_from_the_answer(
    shift: Shift, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object) -> None:
        raise DiskFull(str(shift.home))

    monkeypatch.setattr(Gathered, "keep", full)

    assert records(shift) == anew(shift)
