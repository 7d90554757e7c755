"""What may be typed on the pad of a walk, a test and damage: no half bolt, no place elsewhere."""

from collections.abc import Mapping
from decimal import Decimal

import pytest

from fieldapp.work.asked import Digits
from fieldapp.work.walk.questions import section_question
from fieldapp.work.walk.section_work import Place
from tests.unit.work.conftest import Shift, shift
from tests.unit.work.walking import alone, begun, here, now, recorded, section

__all__ = ["shift"]

ELSEWHERE: Place = Decimal(460), Decimal(470)
BAR = {"zone": "right wall", "of": "steel", "steel": "bar", "part": "bolts"}
DISTANCE = {"zone": "back", "of": "distance", "station": "CV-7", "between": "walls"}
BOLTS = {"zone": "back", "of": "part", "part": "bolts", "severity": "S1", "corrosion_grade": 1}


def pad(shift: Shift, thing: Mapping[str, object], at: Place = ELSEWHERE) -> tuple[str, Digits]:
    asked = section_question(alone({"thing": dict(thing)}, at=at), here(shift))
    assert asked is not None
    assert isinstance(asked.digits, Digits)
    return asked.key, asked.digits


def test_bolts_are_counted_whole(shift: Shift) -> None:
    key, digits = pad(shift, BOLTS)

    assert key == "count"
    assert digits.whole
    assert (digits.smallest, digits.says(Decimal(7))) == ("1", {"more": {"count": 7}})


@pytest.mark.parametrize("thing", [BAR, DISTANCE])
def test_a_place_is_typed_inside_its_section_or_the_walk_could_never_be_ended(
    shift: Shift, thing: Mapping[str, object]
) -> None:
    key, digits = pad(shift, thing)

    assert key == "chainage_m"
    assert (digits.smallest, digits.largest, digits.limit) == ("460", "470", "460 to 470 m")


@pytest.mark.parametrize(
    ("between", "least", "most"),
    [("walls", "500", "20000"), ("back and floor", "500", "20000"), ("crack", "", "500")],
)
def test_a_distance_across_the_drive_in_metres_or_as_of_a_crack_is_no_reading(
    shift: Shift, between: str, least: str, most: str
) -> None:
    key, digits = pad(shift, DISTANCE | {"between": between, "chainage_m": "463", "u_mm": "5"})

    assert key == "read_mm"
    assert (digits.unit, digits.smallest, digits.largest) == ("mm", least, most)


def test_a_station_is_offered_in_the_section_where_it_lies_alone(shift: Shift) -> None:
    """A look that reached over the edge of a section of today has a station in the next."""
    read = {"station": "CV-7", "between": "walls", "read_mm": "4962", "u_mm": "5"}
    seen = section(from_m="4", to_m="14", distances=[{**read, "chainage_m": "12"}])
    recorded(shift, seen)
    at = now(shift, begun(shift))

    assert at.at is not None
    assert at.here is not None
    assert at.at.section.from_m == 0
    assert at.here.stations == ()
