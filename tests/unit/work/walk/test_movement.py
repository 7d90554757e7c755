"""What readings of one station tell of how far and how fast rock moves there."""

from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from fieldapp.work.demo.story import MAIN
from fieldapp.work.walk.movement import Moved, movements
from fieldapp.work.walk.section_history import section_at
from fieldapp.work.walk.walks import WalkRefused
from schemas.bodies.walk import Between
from tests.unit.work.conftest import Shift
from tests.unit.work.walking import recorded, section


def read(shift: Shift, read_mm: str, between: Between = "walls", **said: object) -> None:
    """Have a station read at 133.4 m now."""
    at = shift.clock()
    station = {"station": "CV-7", "between": between, "chainage_m": "133.4", "u_mm": "5"}
    seen = section(at=at, distances=[{**station, "read_mm": read_mm, **said}])
    recorded(shift, seen, month=f"{at:%Y-%m}", began_at=at, ended_at=at)


def moved(shift: Shift) -> tuple[Moved, ...]:
    known = section_at(shift.site, shift.place(MAIN).id, Decimal("133.4"))
    return movements(known.looks, known.section, ZoneInfo("UTC"))


def test_a_second_reading_says_how_far_it_moved_and_how_sure_that_is(shift: Shift) -> None:
    """Two lasers of ± 5 mm differ by 14.2 mm at 95 % while nothing moves (2 x 5 x root 2)."""
    read(shift, "4962")
    assert moved(shift) == ()
    shift.wait(days=28)
    read(shift, "4950")
    (found,) = moved(shift)

    assert (str(found.by_mm), str(found.doubt_mm)) == ("-12", "14.2")
    assert found.words == (
        "CV-7, walls: closed by 12 mm since 6 May 2031, doubt ± 14.2 mm, which may be nothing; "
        "over all readings -13.0 mm a month (no interval: too few dates; 2 readings)"
    )


def test_with_five_dates_and_more_a_rate_has_an_interval(shift: Shift) -> None:
    """16 mm every 30 days: in 365.25 days 194.8 mm, a twelfth of it in a month."""
    for nth in range(6):
        read(shift, str(4962 - 16 * nth))
        shift.wait(days=30)
    (found,) = moved(shift)

    rate = "over all readings -16.2 mm a month (-16.2 to -16.2, 95 %; 6 readings)"
    assert found.words.endswith(rate)
    assert "which may be nothing" not in found.words


def test_readings_of_one_day_tell_no_rate(shift: Shift) -> None:
    read(shift, "4962")
    shift.wait(hours=2)
    read(shift, "4990")
    (found,) = moved(shift)

    assert found.words.endswith(
        "opened by 28 mm since 6 May 2031, doubt ± 14.2 mm; too short a time for a rate"
    )


@pytest.mark.parametrize(
    ("between", "first", "then"), [("walls", "4962", "4692"), ("crack", "4.0", "40")]
)
def test_a_slip_of_the_pad_is_refused_until_it_was_read_twice(
    shift: Shift, between: Between, first: str, then: str
) -> None:
    read(shift, first, between)
    shift.wait(days=28)
    with pytest.raises(WalkRefused) as refused:
        read(shift, then, between)
    read(shift, then, between, read_twice=True)

    assert "than last time" in refused.value.reason
    assert str(moved(shift)[0].newest.read_mm) == then
