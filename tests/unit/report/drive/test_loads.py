"""The load map: what each bolt carries, told apart without colour, alike on glass and paper."""

from dataclasses import replace
from decimal import Decimal
from io import BytesIO
from math import dist

import pytest
from pypdf import PdfReader

from fieldapp.assess import assess
from fieldapp.report.drive.loads import load_picture, step_words
from fieldapp.report.load_hatching import HATCHES, hatching, step_bounds, step_of
from fieldapp.report.load_told import bolt_loads
from fieldapp.report.round_sheet.whole import round_sheet
from fieldapp.report.shapes import Drawing
from schemas.bodies.event import Event
from tests.standards import D1, changed, put
from tests.unit.assess.conforming import LOOKED, conforming, missing, with_bolts, with_row
from tests.unit.report.examples import SHEET

SQUARE = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]
HOLED = with_bolts(conforming(), 2, missing(4))


def drawn() -> Drawing:
    drawing = load_picture(HOLED)
    assert drawing is not None
    return drawing


@pytest.mark.parametrize("slant", [1, -1])
@pytest.mark.parametrize("apart", [0.5, 1.0, 3.5])
def test_hatching_fills_its_outline_evenly(apart: float, slant: int) -> None:
    """All lines together, each as wide as they are apart, are the area."""
    lines = list(hatching(SQUARE, apart, slant))

    assert sum(dist(*line) for line in lines) * apart == pytest.approx(100, rel=0.06)
    assert all(-1e-9 <= part <= 10 + 1e-9 for line in lines for end in line for part in end)


def test_every_step_is_hatched_its_own_way() -> None:
    ways = {(hatch.apart_mm, hatch.slants) for hatch in HATCHES}

    assert len(ways) == len(HATCHES) == 4


def test_an_engineer_reads_what_each_bolt_carries_as_figures() -> None:
    """A bolt is missing of 1.24 m in the row by 0.9 m; by hand, from the plumb lines between.

    Those beside it in the row get 0.0735 m² twice, those before and behind the rest of its
    1.1156 m²; the plate carries 120 kN over 2800 kg/m³ × 9.81 m/s² × 1.5 m = 41.2 kPa.
    """
    told = {it.area_m2.quantize(Decimal("0.001")): it for it in bolt_loads(HOLED)}
    beside, before = told[Decimal("1.263")], told[Decimal("1.526")]

    assert (before.carries, before.unit) == (Decimal("120.0"), "kN")
    assert before.gives_way_first == "plate"
    assert float(before.demanded) == pytest.approx(1.5264 * 41.2, abs=0.05)
    assert (beside.factor, before.factor) == (Decimal("2.31"), Decimal("1.91"))


def test_steps_follow_the_factor_of_the_standard() -> None:
    bounds = step_bounds(Decimal("1.5"))

    assert step_words(bounds)[1] == "1 to 1.5 times"
    assert [step_of(Decimal(it), bounds) for it in ("0.99", "1", "1.5", "1.88")] == [0, 1, 2, 3]


def test_the_bolts_beside_a_missing_one_carry_less_and_say_so() -> None:
    by_figure = {cell.figure: cell.step for cell in drawn().cells}

    assert by_figure["1.9"] == 1
    assert by_figure["2.6"] == 3


def test_a_figure_never_looks_better_than_its_step() -> None:
    bounds = step_bounds(Decimal(2))

    for cell in drawn().cells:
        assert step_of(Decimal(cell.figure), bounds) <= cell.step


def test_each_cell_says_what_its_bolt_carries_and_what_is_demanded_of_it() -> None:
    """120 kN by its plate; 1.240 × 0.9 m of rock 1.5 m thick, of 2800 kg/m³: 46.0 kN."""
    said = {cell.words for cell in drawn().cells if cell.figure == "2.6"}

    assert "carries 120.0 kN, the plate gives way first; its 1.12 m² demand 46.0 kN" in said


def test_a_class_without_a_demand_has_no_such_map() -> None:
    silent = HOLED.model_copy(update={"standard": changed(put(D1, "", demand=None))})

    assert load_picture(silent) is None


def test_the_sheet_has_a_page_for_engineers_where_that_is_asked_for() -> None:
    sheet = replace(SHEET, bundle=HOLED, assessment=assess(HOLED))
    one = PdfReader(BytesIO(round_sheet(sheet))).pages
    two = PdfReader(BytesIO(round_sheet(replace(sheet, load=True)))).pages

    assert (len(one), len(two)) == (1, 2)
    assert "times the demand" not in one[0].extract_text()
    assert "Load in the back" in two[1].extract_text()
    assert "1.91" in two[1].extract_text()


def test_a_bolt_that_nobody_looked_at_bears_no_figure() -> None:
    unseen = with_row(conforming(), 2, counted=None)
    drawing = load_picture(unseen)
    assert drawing is not None
    asked = [cell for cell in drawing.cells if cell.figure == "?"]

    assert len(asked) == 9
    assert len({cell.x_m for cell in asked}) == 1
    assert {it.carries is None for it in bolt_loads(unseen) if it.row == 2} == {True}


def test_after_an_event_no_bolt_is_drawn_with_a_figure_until_somebody_has_looked() -> None:
    event = Event(
        heading="heading", what="seismic", at=LOOKED, chainage_m=Decimal(1390),
        radius_m=Decimal(80), excluded_until=LOOKED,
    )  # fmt: skip
    drawing = load_picture(HOLED.model_copy(update={"shaken_by": (event,)}))

    assert drawing is not None
    assert {(cell.figure, cell.step) for cell in drawing.cells} == {("?", 0)}
