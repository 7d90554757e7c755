"""Sheets that can't be, and sheets beside what was taped."""

from decimal import Decimal

import pytest

from schemas.bodies.round import LapSeen, SheetLap, SheetSeen
from schemas.findings import Verdict
from tests.unit.assess.conforming import conforming, length, with_round
from tests.unit.assess.contradictions.contradicted import contradicted, the_one
from tests.unit.assess.meshed import WHOLE, meshed, sheet, with_old

HELD = SheetLap(with_sheet=1, held=True)
FIRST = sheet(1, ("-0.15", "1.95"), laps=(with_old(),))
SECOND = sheet(2, ("1.65", "2.85"), laps=(HELD,))


def test_sheets_that_lie_as_the_mesh_was_taped_agree() -> None:
    taped = {"to_face": length("0.65"), "above_floor": length("1.36")}
    mesh = meshed(WHOLE).round.mesh.model_copy(update=taped)

    assert contradicted(meshed(WHOLE, mesh=mesh)) == []


@pytest.mark.parametrize(
    ("edges", "across"),
    [(("1.35", "-0.15"), ("-5", "5")), (("0", "0"), ("-5", "5")), (("0", "3"), ("5", "-5"))],
    ids=["reversed along", "no length", "reversed across"],
)
def test_a_sheet_without_an_area(edges: tuple[str, str], across: tuple[str, str]) -> None:
    found = meshed(WHOLE, sheet(2, edges, across))

    assert "sheet 2 ends where it begins, or before" in words(found)


@pytest.mark.parametrize(
    "there",
    [
        sheet(2, ("90", "92")),
        sheet(2, ("-90", "-87")),
        sheet(2, ("0", "2"), ("20", "25")),
        sheet(2, ("0", "2"), ("-12", "5")),
    ],
    ids=["beyond the face", "far outbye", "beside the drive", "over the floor"],
)
def test_a_sheet_that_is_not_in_this_round(there: SheetSeen) -> None:
    assert "sheet 2 does not lie in this round" in words(meshed(WHOLE, there))


def test_a_sheet_larger_than_any_of_the_standard_s() -> None:
    """One of 3.0 × 10.2 m where they come as 3.0 × 2.4 m covers nothing that can be believed."""
    found = with_round(conforming(), sheets=(WHOLE,))

    assert "sheet 1 is 3.00 m by 10.20 m, larger than 2.40 m by 3.00 m" in words(found)


def test_a_sheet_that_lies_the_other_way_round_or_is_an_opening_longer_is_not_questioned() -> None:
    turned = sheet(1, ("-0.15", "2.25"), ("-1.5", "1.5"))
    longer = sheet(1, ("-0.15", "2.90"), ("-1.2", "1.25"))
    for one in (turned, longer):
        assert not any("larger" in it for it in words(with_round(conforming(), sheets=(one,))))


def test_a_strip_longer_than_its_pack() -> None:
    """Strips of O2 come in packs of 27 m in all; no drive of its is so wide."""
    strip = sheet(1, ("-0.15", "2.55"), ("-4.5", "4.5"))
    short = conforming("O2").standard.support_class("O2")
    assert short is not None
    assert short.mesh is not None
    packs = short.mesh.model_copy(update={"pack_length_m": Decimal(8), "across_m": Decimal(8)})
    classes = (short.model_copy(update={"mesh": packs}),)
    bundle = with_round(conforming("O2"), sheets=(strip,))
    standard = bundle.standard.model_copy(update={"classes": classes})

    assert not any("larger" in it for it in words(bundle))
    assert any(
        it.startswith("sheet 1 is 2.70 m by 9.00 m") and it.endswith("by 8.00 m")
        for it in words(bundle.model_copy(update={"standard": standard}))
    )


def words(bundle: object) -> list[str]:
    return [place.words for it in contradicted(bundle) for place in it.places]  # type: ignore[arg-type]


def test_a_sheet_told_twice() -> None:
    found = words(meshed(WHOLE, WHOLE))

    assert "sheet 1 is written down 2 times" in found
    assert "sheet 1 lies wholly over sheet 1" in found


def test_a_sheet_wholly_over_another() -> None:
    assert "sheet 2 lies wholly over sheet 1" in words(meshed(WHOLE, sheet(2, ("0.5", "1.5"))))


def test_a_lap_read_with_a_sheet_that_does_not_meet_it() -> None:
    far = SECOND.model_copy(update={"laps": (SheetLap(with_sheet=7, openings=3),)})

    assert "sheet 2 and sheet 7 don't meet, lap read" in words(meshed(FIRST, far))


def test_a_lap_that_was_counted_otherwise_than_it_lies() -> None:
    five = SECOND.model_copy(update={"laps": (SheetLap(with_sheet=1, openings=5, held=True),)})
    found = words(meshed(FIRST, five))

    assert "300 mm by its edges, 5 openings as read: sheet 1 and sheet 2, lap 2" in found


def test_a_lap_counted_from_wall_to_wall_may_be_wider_at_one_sheet() -> None:
    wider = sheet(2, ("1.35", "2.85"), laps=(HELD,))

    assert not any("by its edges" in it for it in words(meshed(FIRST, wider)))


def test_a_lap_counted_from_wall_to_wall_that_is_narrower_by_its_edges() -> None:
    laps = (*conforming().round.laps[:1], LapSeen(number=2, openings=6, held=True))
    found = words(with_round(meshed(FIRST, SECOND), laps=laps))

    assert "300 mm by its edges, 6 openings as read: sheet 1 and sheet 2, lap 2" in found


def test_held_where_no_row_can_meet_it() -> None:
    between = (
        sheet(1, ("-0.15", "1.45"), laps=(with_old(),)),
        sheet(2, ("1.15", "2.85"), laps=(HELD,)),
    )

    assert "held, and no row of bolts meets it: sheet 1 and sheet 2, lap 2" in words(
        meshed(*between)
    )


def test_a_reach_that_was_taped_otherwise_than_the_sheets_end() -> None:
    """The strip ends 0.65 m from the face, and 1.20 m were read."""
    bundle = meshed(WHOLE)
    looked = bundle.round.mesh.model_copy(
        update={"to_face": length("1.20"), "above_floor": length("1.36")}
    )

    assert the_one(with_round(bundle, mesh=looked)) == (
        "mesh_reach",
        "1.20 m as read, 0.65 m by the sheets: mesh to the face",
        Verdict.MEASURE_AGAIN,
    )


def test_a_width_taped_to_the_millimetre_and_by_its_edges() -> None:
    taped = SheetLap(with_sheet=1, least_mm=Decimal(420), held=True)
    found = words(meshed(FIRST, SECOND.model_copy(update={"laps": (taped,)})))

    assert "300 mm by its edges, 420 mm as read: sheet 1 and sheet 2, lap 2" in found
