"""Photos from before and after a repair: paired, and aligned where both were measured."""

import os
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest
from PIL import Image

from fieldapp.assess.damage import done_of
from fieldapp.work.damage.stating import damage_known
from fieldapp.work.known import Known
from fieldapp.work.photo.file import photo_facts
from fieldapp.work.photo.frames_known import Yardstick
from fieldapp.work.photo.measured import keep_measured
from fieldapp.work.photo.photographs import keep_photo, photo_path
from fieldapp.work.photo.taps import OnPhoto, Thing
from fieldapp.work.rehab.before_after import Sides, pair_of, sides_of
from fieldapp.work.rehab.steps import Done, finish, plan, plan_of, start
from fieldapp.work.rehab.troubles import NotToBeVerified, PhotoFromBefore, PhotoOrWhy
from fieldapp.work.rehab.verified import refuse, reopen
from schemas.bodies.photo import Photo
from schemas.bodies.rehab import Rehab
from tests.photos.files import undated
from tests.unit.work.conftest import Shift
from tests.unit.work.damage.test_stating import BOLTER, ENGINEER, TECHNICIAN, record
from tests.unit.work.rehab.test_steps import BARRIER, begun, verified

BEFORE = ((0.4, 0.2), (0.8, 0.2), (0.8, 0.7), (0.4, 0.7))
AFTER = ((0.1, 0.2), (0.3, 0.2), (0.3, 0.6), (0.1, 0.6))
"""Corners of one opening of mesh, as shares of each photo: seen straight on."""


def pictured(path: Path, size: tuple[int, int], at: tuple[tuple[float, float], ...]) -> Path:
    """Write a photo of a dark wall with one opening of white mesh."""
    picture = Image.new("RGB", size, "#202020")
    (left, top), (right, bottom) = at[0], at[2]
    box = (
        round(left * size[0]),
        round(top * size[1]),
        round(right * size[0]),
        round(bottom * size[1]),
    )
    picture.paste((255, 255, 255), box)
    picture.save(path)
    return undated(path)


def measured(shift: Shift, photo: Known[Photo], corners: tuple[tuple[float, float], ...]) -> None:
    facts = photo_facts(photo_path(shift.site, photo.body))
    by = Yardstick("mesh", Decimal(100), Decimal(100))
    work = OnPhoto(facts, by, corners, (1, 1), (Thing("length", corners[:2]),))
    keep_measured(shift.site, photo.id, work, shift.who())


class Repair:
    """A repair that was begun, with a photo of its damage and one of the work."""

    def __init__(self, shift: Shift, folder: Path) -> None:
        self.site, who = shift.site, shift.who(BOLTER)
        tear = damage_known(shift.site, record(shift).id, shift.clock())
        was = pictured(folder / "was.png", (300, 200), BEFORE)
        self.before = keep_photo(shift.site, was, who, tear.id)
        self.planned = plan(shift.site, plan_of(tear), shift.who(ENGINEER))
        shift.wait(hours=1)
        self.begun = start(shift.site, self.planned.id, who, barricade=BARRIER)
        shift.wait(hours=1)
        now = pictured(folder / "now.png", (400, 600), AFTER)
        self.seen_again = keep_photo(
            shift.site, pictured(folder / "x.png", (9, 9), BEFORE), who, tear.id
        )
        self.after = keep_photo(shift.site, now, who, self.begun.id)

    def sides(self, rehab: Known[Rehab]) -> tuple[list[str], list[str]]:
        found = sides_of(self.site, rehab.id, rehab.body)
        return [it.id for it in found.before], [it.id for it in found.after]


@pytest.fixture
def repair(shift: Shift, tmp_path: Path) -> Repair:
    return Repair(shift, tmp_path)


def test_before_is_what_was_photographed_before_the_work_and_after_what_came_since(
    repair: Repair,
) -> None:
    """A photo of the damage from while the work goes on is neither."""
    assert repair.sides(repair.begun) == ([repair.before.id], [repair.after.id])
    assert repair.sides(repair.planned) == ([], [])


def test_a_photo_of_damage_that_was_seen_again_is_one_from_before(
    shift: Shift, tmp_path: Path
) -> None:
    tear = record(shift)
    again = record(shift, again=tear.id)
    photo = keep_photo(shift.site, pictured(tmp_path / "a.png", (9, 9), BEFORE), None, again.id)
    shift.wait(minutes=1)
    known = damage_known(shift.site, tear.id, shift.clock())
    planned = plan(shift.site, plan_of(known), shift.who(ENGINEER))
    begun = start(shift.site, planned.id, shift.who(BOLTER), barricade=BARRIER)

    assert begun.body.before == (photo.id,)
    assert [it.id for it in sides_of(shift.site, begun.id, begun.body).before] == [photo.id]


def test_a_photo_that_has_not_arrived_makes_no_pair(repair: Repair) -> None:
    photo_path(repair.site, repair.after.body).unlink()

    found = sides_of(repair.site, repair.begun.id, repair.begun.body)
    assert found == Sides(before=found.before)
    assert not found.are_both


def test_photos_lie_on_each_other_only_where_both_were_measured(
    repair: Repair, shift: Shift
) -> None:
    files = [photo_path(shift.site, it.body) for it in (repair.before, repair.after)]
    kept = [it.read_bytes() for it in files]
    measured(shift, repair.before, BEFORE)
    one = pair_of(shift.site, repair.before, repair.after, 600)
    measured(shift, repair.after, AFTER)
    both = pair_of(shift.site, repair.before, repair.after, 600)

    assert (one.is_aligned, one.after.size) == (False, (400, 600))
    assert (both.is_aligned, both.after.size) == (True, both.before.size)
    for at in ((125, 45), (235, 135), (180, 90)):
        assert both.after.getpixel(at) == (255, 255, 255) == both.before.getpixel(at)
    for at in ((115, 90), (180, 35), (180, 145)):
        assert both.after.getpixel(at) == (32, 32, 32) == both.before.getpixel(at)
    assert [it.read_bytes() for it in files] == kept


def test_measured_photos_come_first_and_then_the_newest(
    repair: Repair, shift: Shift, tmp_path: Path
) -> None:
    newer = []
    for wide in (80, 90):
        shift.wait(minutes=1)
        file = pictured(tmp_path / f"{wide}.png", (wide, 90), AFTER)
        newer.append(keep_photo(shift.site, file, None, repair.begun.id).id)
    measured(shift, repair.after, AFTER)

    _before, after = repair.sides(repair.begun)
    assert after == [repair.after.id, *reversed(newer)]


def test_a_photo_that_was_there_before_the_work_was_begun_does_not_show_what_was_done(
    shift: Shift, tmp_path: Path
) -> None:
    """Its file was written an hour before, and it was kept as one of the work: common practice."""
    site, who = shift.site, shift.who(BOLTER)
    file = pictured(tmp_path / "was.png", (30, 20), BEFORE)
    os.utime(file, (shift.clock().timestamp(),) * 2)
    shift.wait(hours=1)
    found = begun(shift)
    shift.wait(minutes=5)
    kept = keep_photo(site, file, who, found.id)
    work = Done("restored", lap_openings=3)
    with pytest.raises(PhotoFromBefore):
        finish(site, found.id, who, work)
    assert [it.id for it in sides_of(site, found.id, found.body).before] == [kept.id]

    none = finish(site, found.id, who, replace(work, no_photo_because="the camera failed"))
    assert (none.body.after, none.body.no_photo_because) == ((), "the camera failed")
    with pytest.raises(NotToBeVerified, match="its photo is from before the work was begun"):
        verified(shift, none)


def test_whoever_did_the_work_may_say_which_clock_was_wrong(shift: Shift, tmp_path: Path) -> None:
    site, who = shift.site, shift.who(BOLTER)
    file = pictured(tmp_path / "was.png", (30, 20), BEFORE)
    os.utime(file, (shift.clock().timestamp(),) * 2)
    shift.wait(hours=1)
    found = begun(shift)
    kept = keep_photo(site, file, who, found.id)
    done = Done("restored", lap_openings=3, older_photo_because="the camera's clock is wrong")
    told = finish(site, found.id, who, done)

    assert told.body.after == (kept.id,)
    assert [it.id for it in sides_of(site, told.id, told.body).after] == [kept.id]
    assert verified(shift, told).body.state == "verified"


def test_work_that_is_begun_again_is_proved_anew(shift: Shift, tmp_path: Path) -> None:
    """What was reopened is done again: the photo of the first time does not show it."""
    site, who = shift.site, shift.who(BOLTER)
    found = begun(shift)
    first = keep_photo(site, pictured(tmp_path / "1.png", (30, 20), AFTER), who, found.id)
    done = finish(site, found.id, who, Done("restored", bolts_added=2, lap_openings=3))
    shift.wait(hours=1)
    verified(shift, done)
    reopen(site, found.id, None, because="a plate is loose")
    shift.wait(hours=1)
    again = start(site, found.id, who, barricade=BARRIER)
    with pytest.raises(PhotoOrWhy):
        finish(site, found.id, who, Done("restored", lap_openings=3))
    with pytest.raises(PhotoFromBefore):
        finish(site, found.id, who, Done("restored", lap_openings=3, after=(first.id,)))
    second = keep_photo(site, pictured(tmp_path / "2.png", (30, 21), AFTER), who, found.id)
    redone = finish(site, found.id, who, Done("restored", lap_openings=3))

    assert (again.body.outcome, again.body.bolts_added) == (None, None), "of work to be done anew"
    assert (first.id in again.body.before, redone.body.after) == (True, (second.id,))


def test_a_part_that_is_done_again_is_that_part_alone(shift: Shift) -> None:
    """The rest is a repair of its own by then: the part's photo never proves it."""
    site, who = shift.site, shift.who(BOLTER)
    found = begun(shift, chainage_m="588", to_m="594")
    ends = Decimal(588), Decimal(590)
    part = Done("restored", lap_openings=3, part=ends, after=("photo",))
    finish(site, found.id, who, part)
    refuse(site, found.id, shift.who(TECHNICIAN), because="a plate is loose")
    shift.wait(minutes=1)
    start(site, found.id, who, barricade=BARRIER)
    again = finish(site, found.id, who, replace(part, part=None)).body

    assert done_of(again) == ends
