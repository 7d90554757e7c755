"""Measuring by hand: the taps of a finger come to what `lastrow measure` says of them."""

from decimal import Decimal

import pytest

from fieldapp.work.photo.file import PhotoFacts
from fieldapp.work.photo.frames_known import TARGET, Yardstick, yardsticks
from fieldapp.work.photo.measured import keep_measured, measured_now, measured_on
from fieldapp.work.photo.measuring import NotMeasured, measurement
from fieldapp.work.photo.taps import OnPhoto, doubt_px, gone_on_with
from fieldapp.work.withdrawals import NotYoursToWithdraw
from schemas.taps import Taps
from tests.photos.files import EQUIVALENT_MM, FOUR_HUNDRED_PX, METRE_PX, mesh, wanted
from tests.unit.work.conftest import Shift

FACTS = PhotoFacts(1920, 1080, float(EQUIVALENT_MM))
MESH = Yardstick("mesh", Decimal(100), Decimal(100))
PHOTO = "01c2a8d6-4d22-7b11-9c35-0a4e6f2d8b1a"


def share(point: tuple[str, str]) -> tuple[float, float]:
    return float(point[0]) / FACTS.width_px, float(point[1]) / FACTS.height_px


def framed() -> OnPhoto:
    work = OnPhoto(FACTS, MESH, openings=(10, 10))
    for corner in METRE_PX:
        work = work.tapped(share(corner), 2.0)
    return work


def measured() -> OnPhoto:
    work = framed().begun("length")
    for point in FOUR_HUNDRED_PX:
        work = work.tapped(share(point), 2.0)
    return work


def test_taps_of_a_finger_come_to_what_the_terminal_says_of_them() -> None:
    by_hand = measured_now(measured())
    typed = Taps.model_validate({"frame": mesh(), "measure": (wanted(),), "tap_px": "2.0"})

    assert by_hand is not None
    assert by_hand.results == measurement(FACTS, typed).results


def test_nothing_is_measured_before_there_is_a_frame_and_a_whole_thing() -> None:
    assert measured_now(OnPhoto(FACTS, MESH)) is None
    assert measured_now(framed()) is None
    assert measured_now(framed().begun("length").tapped((0.4, 0.4), 2.0)) is None
    assert framed().tapped((0.4, 0.4), 2.0) == framed(), "it was not said what is measured"


def test_the_least_sure_tap_is_the_doubt_of_all() -> None:
    sure, unsure = measured(), framed().begun("length")
    for point in FOUR_HUNDRED_PX:
        unsure = unsure.tapped(share(point), 12.0)
    found = [measured_now(work) for work in (sure, unsure)]
    spreads = [int(it.results[0].plus_minus) for it in found if it is not None]

    assert spreads[0] < spreads[1]
    assert doubt_px(0.2, 5.9, 3.0) > doubt_px(1.0, 5.9, 3.0), "zoomed in, a tap is surer"


def test_the_last_place_is_nudged_and_no_other() -> None:
    work = measured()
    nudged = work.nudged(3, -2)

    assert nudged.things[0].points[0] == work.things[0].points[0]
    assert nudged.last is not None
    assert work.last is not None
    assert (nudged.last[0] - work.last[0]) * FACTS.width_px == pytest.approx(3)
    assert (nudged.last[1] - work.last[1]) * FACTS.height_px == pytest.approx(-2)
    assert work.nudged(9_999, 9_999).last == (1.0, 1.0)


def test_a_full_thing_begins_the_next_of_its_kind_and_an_area_grows() -> None:
    next_one = measured().tapped((0.5, 0.5), 2.0)
    area = framed().begun("area")
    for at in ((0.4, 0.4), (0.5, 0.4), (0.5, 0.5), (0.4, 0.5)):
        area = area.tapped(at, 2.0)

    assert [len(it.points) for it in next_one.things] == [2, 1]
    assert [len(it.points) for it in area.things] == [4]
    assert [it.what for it in area.begun("lap").things] == ["area", "lap"]


def test_what_was_measured_is_kept_and_gone_on_with(shift: Shift) -> None:
    kept = keep_measured(shift.site, PHOTO, measured(), shift.who())
    shift.reopened()
    known = measured_on(shift.site, PHOTO)

    assert kept is not None
    assert known is not None
    assert known.body.found.results[0].value == "400"
    again = gone_on_with(FACTS, known.body)
    assert again.taps() == measured().taps()
    keep_measured(shift.site, PHOTO, again, shift.who())
    assert len(tuple(shift.site.store.ledger.of_kind("photo_measurement"))) == 1


def test_a_correction_takes_the_place_of_what_was_measured(shift: Shift) -> None:
    first = keep_measured(shift.site, PHOTO, measured(), shift.who())
    second = keep_measured(shift.site, PHOTO, measured().nudged(40, 0), shift.who())

    assert first is not None
    assert second is not None
    assert second.id == first.id
    assert second.entry.parents == (first.entry.revision,)
    assert second.body.found.results[0].value != first.body.found.results[0].value


@pytest.mark.parametrize("who", ["Day supervisor", "Geotechnical technician", "Bolter, crew A"])
def test_whoever_measured_undoes_it_to_its_beginning_and_no_earlier_reading_is_left(
    who: str, shift: Shift
) -> None:
    keep_measured(shift.site, PHOTO, measured(), shift.who(who))
    keep_measured(shift.site, PHOTO, measured().nudged(40, 0), shift.who(who))
    keep_measured(shift.site, PHOTO, framed(), shift.who(who))

    assert measured_on(shift.site, PHOTO) is None


def test_a_bolter_does_not_undo_what_a_supervisor_measured(shift: Shift) -> None:
    keep_measured(shift.site, PHOTO, measured(), shift.who())
    with pytest.raises(NotYoursToWithdraw):
        keep_measured(shift.site, PHOTO, framed(), shift.who("Bolter, crew A"))

    assert measured_on(shift.site, PHOTO) is not None


def test_taps_that_measure_nothing_leave_what_was_kept(shift: Shift) -> None:
    keep_measured(shift.site, PHOTO, measured(), shift.who())
    crossed = OnPhoto(FACTS, MESH, corners=tuple(map(share, METRE_PX[::2] + METRE_PX[1::2])))
    with pytest.raises(NotMeasured):
        keep_measured(
            shift.site, PHOTO, crossed.begun("length").tapped((0, 0), 2).tapped((1, 1), 2),
            shift.who(),
        )  # fmt: skip

    assert measured_on(shift.site, PHOTO) is not None


def test_the_mine_s_own_mesh_and_plates_are_offered_and_the_printed_target(shift: Shift) -> None:
    offered = yardsticks(shift.site)

    assert offered[0] == MESH
    assert {it.kind for it in offered} == {"mesh", "plate", "target"}
    assert offered[-1] == TARGET
    assert len(set(offered)) == len(offered)
