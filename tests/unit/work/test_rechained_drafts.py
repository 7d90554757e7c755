"""What was begun before chainages were measured anew, and is stated afterwards."""

from datetime import UTC, datetime
from decimal import Decimal

import pytest

from fieldapp.report.words.damage import observations
from fieldapp.ui.round_work import round_words
from fieldapp.work.damage.draft import (
    DamageWork,
    begin_damage,
    begun_damage,
    keep_damage,
    keep_damage_touch,
)
from fieldapp.work.damage.stating import damage_known
from fieldapp.work.demo.story import READY
from fieldapp.work.place_chained import PlaceInDoubt
from fieldapp.work.rounds import open_round
from fieldapp.work.said_touches import SaidTouch
from tests.unit.work.conftest import Shift
from tests.unit.work.test_rechain import BY_M, ENTERED_M, chained_anew, heading_stated

PLACE = {"kind": "torn mesh", "zone": "back", "chainage_m": "305"}


def touched(shift: Shift, work: DamageWork, says: dict[str, str]) -> DamageWork:
    shift.wait(minutes=1)
    return keep_damage_touch(shift.site, work, SaidTouch(at=shift.clock(), says=says))


def begun(shift: Shift) -> DamageWork:
    return touched(shift, begin_damage(shift.site, shift.place().id), PLACE)


def shown_m(shift: Shift, damage_id: str) -> Decimal:
    return damage_known(shift.site, damage_id, shift.clock()).from_m


def heard_of(shift: Shift, at: datetime) -> None:
    """Take in what an engineer stated at a time on another tablet."""
    heading_stated(shift, {"from_m": str(ENTERED_M), "by_m": str(BY_M), "at": at})


def test_a_place_that_was_given_before_is_kept_as_read_and_lies_where_it_is_today(
    shift: Shift,
) -> None:
    work = begun(shift)
    chained_anew(shift, ENTERED_M)
    kept = keep_damage(shift.site, begun_damage(shift.site, work.damage_id), None)
    told = observations(damage_known(shift.site, kept.id, shift.clock()), "metres", UTC)

    assert kept.entry.body["chainage_m"] == "305"
    assert shown_m(shift, kept.id) == Decimal("306.4")
    assert told[0].endswith("read 305.0 m, today 306.4 m")


def test_a_place_that_was_given_since_is_where_it_was_said_to_be(shift: Shift) -> None:
    work = begun(shift)
    chained_anew(shift, ENTERED_M)
    kept = keep_damage(shift.site, touched(shift, work, {"chainage_m": "306.4"}), None)

    assert shown_m(shift, kept.id) == Decimal("306.4")


def test_a_place_by_old_marks_or_by_new_ones_is_asked_once_more(shift: Shift) -> None:
    """Measured anew at nine, given at ten, heard of at eleven."""
    measured_at = shift.clock()
    shift.wait(hours=1)
    work = begun(shift)
    shift.wait(hours=1)
    heard_of(shift, measured_at)
    with pytest.raises(PlaceInDoubt):
        keep_damage(shift.site, work, None)
    again = touched(shift, begun_damage(shift.site, work.damage_id), {"chainage_m": "306.4"})

    assert shown_m(shift, keep_damage(shift.site, again, None).id) == Decimal("306.4")


def test_a_round_begun_before_says_where_its_rows_are_today(shift: Shift) -> None:
    shift.look(on_disk=True)
    chained_anew(shift, ENTERED_M)
    going_on = open_round(shift.site, shift.place(READY).id)
    assert going_on is not None

    assert "today +1.4 m" in round_words(going_on.work, "metres")
