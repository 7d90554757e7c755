import pytest

from schemas.bodies.round import BoltSeen, SpotCheck
from schemas.bundle import Bundle
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


def drawn(*spots: tuple[int, int, str | None]) -> Bundle:
    """A round in which these bolts were drawn: row, position, what the plate showed."""
    bundle = conforming()
    for row in (1, 2, 3):
        here = tuple(
            SpotCheck.model_validate({"position": position, "plate_gap": gap})
            for number, position, gap in spots
            if number == row
        )
        bundle = with_row(bundle, row, spot_checks=here)
    return bundle


THREE = ((1, 2, "tight"), (2, 4, "tight"), (3, 9, "tight"))


def test_a_drawn_bolt_that_is_not_there_leaves_one_more_to_be_drawn() -> None:
    found = finding(with_bolts(drawn(*THREE), 2, missing(4)), "plates_seated")

    assert found.verdict is Verdict.NOT_LOOKED_AT
    assert [place.words for place in found.places] == ["the plate of one more drawn bolt"]


def test_another_bolt_that_was_looked_at_stands_for_one_that_is_not_there() -> None:
    instead = with_bolts(drawn(*THREE, (2, 7, "tight")), 2, missing(4))

    assert finding(instead, "plates_seated").verdict is Verdict.ACCEPT


def test_a_drawn_bolt_put_in_anew_is_not_looked_at_until_somebody_did() -> None:
    found = finding(drawn(THREE[0], (2, 4, None), THREE[2]), "plates_seated")

    assert [place.words for place in found.places] == ["row 2, the plate of bolt 4"]
