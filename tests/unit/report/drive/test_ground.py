"""A round split between two support classes, drawn: the line, both names, each part's load."""

from decimal import Decimal

import pytest

from fieldapp.report.drive.loads import load_picture
from fieldapp.report.drive.picture import drive_picture
from fieldapp.report.shapes import Drawing
from schemas.bodies.second_domain import SecondDomain
from schemas.bundle import Bundle
from tests.unit.assess.conforming import conforming, with_round


def split(outbye: str = "D1", inbye: str = "O2") -> Bundle:
    """Five rows; the ground changes 2.0 m past the joint, between rows 2 and 3."""
    bundle = conforming(outbye, rows=5)
    from_m = bundle.round.joint_m + Decimal("2.0")
    second = SecondDomain(from_m=from_m, support_class=inbye, told_by="the plan")
    return with_round(bundle, second_domain=second)


def test_the_split_is_a_line_with_the_names_of_both_classes() -> None:
    drawing = drive_picture(split())
    at_m = float(split().round.joint_m) + 2.0

    assert [it.x_m for it in drawing.lines if it.kind == "ground changes"] == [at_m]
    (said,) = [it.text for it in drawing.tags if "then" in it.text]
    assert said == drawing.notes[0] == "D1 to 1388.4 m, then O2"
    assert {it.row: it.ground for it in drawing.rows if it.ground} == {2: "D1", 3: "O2"}


def test_a_round_in_one_ground_has_no_such_line() -> None:
    drawing = drive_picture(conforming())

    assert "ground changes" not in {it.kind for it in drawing.lines}
    assert not [it for it in drawing.tags if "then" in it.text]
    assert not [it for it in drawing.rows if it.ground]


def test_the_load_map_draws_each_part_by_its_own_class() -> None:
    """Far from the split a bolt of the first part carries what it does in a round of its class."""
    drawing, of_first = load_picture(split()), load_picture(conforming("D1", rows=5))
    assert drawing is not None
    assert of_first is not None
    at_m = float(split().round.joint_m) + 2.0
    first_row = min(it.x_m for it in drawing.cells)

    assert figures(drawing, first_row, first_row) <= figures(of_first, 0.0, at_m)
    assert figures(drawing, at_m, 9e9) != figures(of_first, at_m, 9e9)
    assert [it.kind for it in drawing.lines if it.kind == "ground changes"] == ["ground changes"]
    assert drawing.notes[0] == "D1 to 1388.4 m, then O2"
    assert drawing.tags == (), "a tag would hide the figures of bolts"


def figures(drawing: Drawing, from_m: float, to_m: float) -> set[tuple[float, float, str]]:
    return {(it.x_m, it.s_m, it.figure) for it in drawing.cells if from_m <= it.x_m <= to_m}


@pytest.mark.parametrize("code", ["D1", "O2"])
def test_no_bolt_of_a_split_round_is_drawn_twice_on_the_load_map(code: str) -> None:
    other = "O2" if code == "D1" else "D1"
    drawing = load_picture(split(code, other))
    assert drawing is not None

    named = [(it.x_m, it.s_m) for it in drawing.cells if it.figure]
    assert len(named) == len(set(named))
