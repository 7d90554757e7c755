"""A heading over the mine plan: read back by the library, every thing where the survey puts it."""

from io import StringIO

import pytest
from ezdxf import units
from ezdxf.document import Drawing
from ezdxf.entities.polyline import Polyline
from ezdxf.filemanagement import read

from fieldapp.report.plan_drawing import LAYERS, NoSurveyedLine, plan_drawing
from fieldapp.report.reported import code_of
from fieldapp.work.reporting.facts import HeadingFacts
from tests.unit.report.told import LINE, bolt, damage_told, heading_facts, round_told

OF_INTERSECTIONS = {"intersections", "intersection bolts", "intersection cables"}
CROWN_M = 5.0
"""Height of the crown of class D1: walls of 3.0 m under an arch that rises 2.0 m."""


def drawn(facts: HeadingFacts) -> Drawing:
    return read(StringIO(plan_drawing(facts, code_of(facts).readable).decode()))


def points(drawing: Drawing, layer: str) -> list[tuple[float, float, float]]:
    found = drawing.modelspace().query(f'POINT[layer=="{layer}"]')
    return [tuple(it.dxf.location) for it in found]


def test_a_bolt_at_the_crown_stands_over_the_line_where_its_chainage_is() -> None:
    drawing = drawn(heading_facts(round_told(bolt("151.2", "0"))))
    ((east, north, height),) = points(drawing, "bolts")

    assert (east, north, height) == pytest.approx((5000, 8051.2, -900 + CROWN_M))


def test_looking_north_bolts_right_of_the_crown_lie_east_of_it() -> None:
    drawing = drawn(heading_facts(round_told(bolt("151.2", "-2"), bolt("151.2", "2"))))
    left, right = sorted(points(drawing, "bolts"))

    assert left[0] < 5000 < right[0]
    assert 5000 - left[0] == pytest.approx(right[0] - 5000)
    assert left[2] == pytest.approx(right[2])


def test_units_are_metres_and_each_thing_stands_on_the_layer_of_its_name() -> None:
    bolts = (
        bolt("151.2", "0"),
        bolt("151.2", "1", "missing"),
        bolt("151.2", "2", "not looked at"),
    )
    drawing = drawn(heading_facts(round_told(*bolts), damages=(damage_told(),)))
    named = {layer.dxf.name for layer in drawing.layers}
    used = {it.dxf.layer for it in drawing.modelspace()}

    assert drawing.units == units.M
    assert drawing.audit().errors == []
    assert set(LAYERS) <= named
    assert used == set(LAYERS) - {"damage restored"} - OF_INTERSECTIONS


def test_damage_bears_its_label_and_lies_in_its_zone_where_nobody_said_more() -> None:
    drawing = drawn(heading_facts(damages=(damage_told(),)))
    ((east, north, _height),) = points(drawing, "damage")
    words = [it.dxf.text for it in drawing.modelspace().query("TEXT")]

    assert (east, north) == pytest.approx((5000, 8060))
    assert "7K3Q-9XTR-5 torn mesh P2" in words


def test_what_lies_beyond_the_surveyed_line_is_left_out_and_counted() -> None:
    told = round_told(bolt("151.2", "0"), bolt("200.5", "0"))
    drawing = drawn(heading_facts(told, damages=(damage_told("90", "95"),)))
    words = [it.dxf.text for it in drawing.modelspace().query("TEXT")]

    assert len(points(drawing, "bolts")) == 1
    assert "left out beyond the surveyed line: 1 bolts" in words
    assert "left out beyond the surveyed line: 1 damage" in words


def test_a_lap_is_as_wide_as_it_was_read() -> None:
    drawing = drawn(heading_facts(round_told()))
    (lap,) = drawing.modelspace().query('POLYLINE[layer=="mesh laps"]')
    assert isinstance(lap, Polyline)
    norths = [it.dxf.location.y for it in lap.vertices]

    assert max(norths) - min(norths) == pytest.approx(0.3)


def test_a_sheet_of_mesh_lies_over_the_rock_as_long_as_it_was_placed() -> None:
    drawing = drawn(heading_facts(round_told()))
    (sheet,) = drawing.modelspace().query('POLYLINE[layer=="mesh sheets"]')
    assert isinstance(sheet, Polyline)
    places = [it.dxf.location for it in sheet.vertices]

    assert max(it.y for it in places) - min(it.y for it in places) == pytest.approx(2.7)
    assert max(it.z for it in places) == pytest.approx(-900 + CROWN_M, abs=0.01)


def test_without_a_surveyed_line_nothing_is_drawn_and_it_is_said_why() -> None:
    for line in ((), LINE[:1], (LINE[0], LINE[0])):
        facts = heading_facts(round_told(), line=line)
        with pytest.raises(NoSurveyedLine) as refused:
            plan_drawing(facts, code_of(facts).readable)

        assert refused.value.name == "4180 Main"


def test_every_bolt_lies_within_the_drive() -> None:
    told = round_told(*(bolt("151.2", f"{s}") for s in range(-6, 7)))
    places = points(drawn(heading_facts(told)), "bolts")

    # Class D1 is 5.0 m wide.
    assert all(abs(east - 5000) <= 2.5 + 1e-6 for east, _, _ in places)
    assert all(-900 <= height <= -900 + CROWN_M + 1e-6 for _, _, height in places)
