"""Who repairs and who verifies see what others photographed, without a network at the place."""

from datetime import datetime
from pathlib import Path

import pytest
from PIL import Image

from fieldapp.work.damage.stating import record_damage
from fieldapp.work.demo.story import MAIN
from fieldapp.work.known import Known
from fieldapp.work.people import enrol
from fieldapp.work.photo.photographs import keep_photo, photo_name
from fieldapp.work.rehab.steps import Done, finish, start
from fieldapp.work.reporting.heading import heading_report
from fieldapp.work.reporting.then import of_tablet
from fieldapp.work.share.photos_wanted import of_open_work, photos_wanted
from fieldapp.work.site import Site
from fieldapp.work.writing import state
from schemas.bodies.damage import Damage
from schemas.bodies.heading import Heading
from schemas.bodies.photo import Photo
from tests.photos.files import undated
from tests.share.sites import CODE, sites_in
from tests.unit.work.bolt_tests.test_recording import fails, keep
from tests.unit.work.conftest import Shift
from tests.unit.work.damage.test_stating import BOLTER, record
from tests.unit.work.rehab.test_steps import BARRIER, planned, verified

COLOURS = ("red", "green", "blue", "white")


def shot(site: Site, folder: Path, number: int, of: str) -> Known[Photo]:
    file = folder / f"{number}.png"
    Image.new("RGB", (40, 30), COLOURS[number]).save(file)
    return keep_photo(site, undated(file), None, of)


def test_photos_are_wanted_of_every_observation_and_of_the_work_until_it_is_verified(
    shift: Shift, tmp_path: Path
) -> None:
    before = of_open_work(shift.site)
    found = planned(shift)
    (tear,) = found.body.damages
    again = record(shift, again=tear, openings=7)
    shot(shift.site, tmp_path, 3, "a round")
    shown = [shot(shift.site, tmp_path, n, of) for n, of in enumerate((tear, again.id))]
    start(shift.site, found.id, shift.who(BOLTER), barricade=BARRIER)
    shift.wait(hours=1)
    shown.append(shot(shift.site, tmp_path, 2, found.id))
    done = Done(outcome="restored", lap_openings=3)
    finish(shift.site, found.id, shift.who(BOLTER), done)

    assert of_open_work(shift.site) - before == {photo_name(it.body) for it in shown}
    verified(shift, found)
    assert of_open_work(shift.site) == before


def test_the_photo_of_a_test_that_support_failed_is_wanted_and_told_in_the_heading_s_report(
    shift: Shift, tmp_path: Path
) -> None:
    before = of_open_work(shift.site)
    failed, passed = fails(shift).known, keep(shift, chainage_m="594").known
    shown, of_passed = (
        shot(shift.site, tmp_path, n, it.id) for n, it in enumerate((failed, passed))
    )
    told = {it.id: it.photos for it in heading_report(of_tablet(shift.site), MAIN).tests}

    assert of_open_work(shift.site) - before == {photo_name(shown.body)}
    assert [it.sha256 for it in told[failed.id]] == [shown.body.sha256]
    assert [it.sha256 for it in told[passed.id]] == [of_passed.body.sha256]


def test_a_tablet_brings_what_others_photographed_of_open_damage_and_the_office_everything(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with sites_in(tmp_path, monkeypatch) as at:
        place = heading_of(at.office)
        one, two = at.tablet("one"), at.tablet("two")
        at.meet_often(one, two)
        tear = record_damage(one, tear_in(place, at.clock()), None)
        of_it, of_a_round = (
            photo_name(shot(one, tmp_path, n, of).body) for n, of in enumerate((tear.id, "round"))
        )
        at.met(one)
        outcome = at.met(two)
        at.met(one)
        said_by_a_tablet = one.store.photos.acknowledged()
        at.met(at.office)
        at.met(one)

        assert outcome.photos_received == [of_it.path]
        assert two.store.photos.content(of_it) == one.store.photos.content(of_it)
        assert at.office.store.photos.held() == photos_wanted(at.office) == {of_it, of_a_round}
        assert not said_by_a_tablet, "else nobody would look whether the office can still have it"
        assert one.store.photos.acknowledged() == {of_it.sha256, of_a_round.sha256}


def heading_of(office: Site) -> Known[Heading]:
    who = enrol(office, "Engineer", ["geotechnical engineer"], sign_code="7391", site_code=CODE)
    place = Heading.model_validate(
        {"name": "1385 Main", "support_class": "D1", "face_m": "1390", "last_row_m": "1389"}
    )
    return Known(state(office, "heading", place, author=who.id), place)


def tear_in(place: Known[Heading], seen_at: datetime) -> Damage:
    return Damage.model_validate(
        {
            "heading": place.id,
            "seen_at": seen_at,
            "chainage_m": "1350.4",
            "zone": "right shoulder",
            "kind": "torn mesh",
        }
    )
