"""Placed sheets of mesh on the unrolled drive."""

from fieldapp.assess import assess
from fieldapp.report.drive.picture import drive_picture
from fieldapp.report.shapes import Drawing
from schemas.bundle import Bundle
from tests.unit.assess.conforming import conforming
from tests.unit.assess.meshed import WHOLE, meshed, sheet, with_old


def drawn(bundle: Bundle) -> Drawing:
    return drive_picture(bundle, assess(bundle))


FIRST = sheet(1, ("-0.15", "1.35"), laps=(with_old(),))


def test_a_round_without_sheets_shows_its_laps_where_the_standard_puts_them() -> None:
    drawing = drawn(conforming())

    assert (drawing.sheets, drawing.bare) == ((), ())
    assert len(drawing.bands) == 1


def test_laps_of_sheets_are_drawn_where_they_lie() -> None:
    drawing = drawn(meshed(FIRST, sheet(2, ("1.15", "2.85"))))

    assert [it.number for it in drawing.sheets] == [1, 2]
    assert [(it.number, round(it.x_to_m - it.x_from_m, 3)) for it in drawing.bands][1] == (2, 0.2)
    assert drawing.bands[1].colour == "rework", "two openings of three"
    assert "laps stand where the standard puts them" not in " ".join(drawing.notes)


def test_a_lap_counted_from_wall_to_wall_is_drawn_as_read_at_each_of_its_sheets() -> None:
    assumed = sheet(1, ("-0.15", "2.85"), method="assumed")
    counted, not_counted = drawn(meshed(assumed)), drawn(meshed(assumed, laps=()))

    assert [band.read for band in (*counted.bands, *not_counted.bands)] == [True, False]


def test_a_sheet_as_standard_says_so_beside_it() -> None:
    assumed = drawn(meshed(sheet(1, ("-0.15", "2.85"), method="assumed")))
    read = drawn(meshed(WHOLE))

    assert "sheet 1: as standard, assumed" in {tag.text for tag in assumed.tags}
    assert "sheet 1" in {tag.text for tag in read.tags}
    assert [it.read for it in (*assumed.sheets, *read.sheets)] == [False, True]


def test_bare_rock_has_an_outline_and_its_area_beside_it() -> None:
    drawing = drawn(meshed(FIRST, sheet(2, ("1.60", "2.85"))))

    (outline,) = drawing.bare
    assert {round(x - 1386.40, 2) for x, _ in outline} == {1.35, 1.60}
    assert "2.48\N{NO-BREAK SPACE}m²" in {tag.text for tag in drawing.tags}


def test_a_sheet_mistyped_far_away_does_not_shrink_the_round() -> None:
    near, far = drawn(meshed(WHOLE)), drawn(meshed(WHOLE, sheet(2, ("900", "902"))))

    assert (near.x_to_m, near.x_from_m) == (far.x_to_m, far.x_from_m)


def test_a_sheet_is_drawn_as_wires_both_ways() -> None:
    (one,) = drawn(meshed(WHOLE)).sheets
    along = [wire for wire in one.wires if wire[0][1] == wire[1][1]]

    assert len(along) > 10
    assert len(one.wires) - len(along) > 3
