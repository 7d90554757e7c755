import pytest

from schemas.bodies.round import BoltSeen, SpotCheck
from schemas.findings import Verdict
from tests.unit.assess.conforming import conforming, finding, loose, missing, with_bolts, with_row


@pytest.mark.parametrize(
    ("gap", "verdict"),
    [
        ("tight", Verdict.ACCEPT),
        ("< 10 mm", Verdict.ACCEPT),
        ("10–20 mm", Verdict.REWORK),
        ("> 20 mm", Verdict.REWORK),
        (None, Verdict.NOT_LOOKED_AT),
    ],
)
def test_a_drawn_bolt_is_judged_by_what_its_plate_showed(gap: str, verdict: Verdict) -> None:
    spot = SpotCheck.model_validate({"position": 4, "plate_gap": gap})
    found = finding(with_row(conforming(), 2, spot_checks=(spot,)), "plates_seated")

    assert found.verdict is verdict


def test_a_loose_plate_is_rework_with_its_place() -> None:
    found = finding(with_bolts(conforming(), 2, loose(4)), "plates_seated")

    assert found.fix == ("seat the plate, row 2, 1.2 m left of the crown",)


def test_a_bolt_that_is_not_there_has_no_plate() -> None:
    found = finding(with_bolts(conforming(), 2, missing(4)), "plates_seated")

    assert found.verdict is Verdict.ACCEPT


def test_a_bolt_marked_without_its_plate_in_a_row_not_counted_is_not_looked_at() -> None:
    row = with_row(conforming(), 2, counted=None)
    bundle = with_bolts(row, 2, BoltSeen(position=4, state="present"))
    words = [place.words for place in finding(bundle, "plates_seated").places]

    assert "row 2, 1.2 m left of the crown" in words
