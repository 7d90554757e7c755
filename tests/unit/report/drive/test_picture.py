"""The unrolled drive: what was seen and found, as shapes in metres."""

from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess import assess
from fieldapp.report.drive.picture import drive_picture, last_row_m
from fieldapp.report.shapes import Bolt, Drawing
from schemas.bodies.round import BoltSeen, FaceReading, HoleSeen, LapSeen, MeshSeen
from schemas.bundle import Bundle
from tests.unit.assess.conforming import (
    JOINT,
    conforming,
    counted,
    length,
    loose,
    missing,
    with_bolts,
    with_round,
    with_row,
)

MEETS = conforming("D1", 3)


def drawn(bundle: Bundle, **more: Any) -> Drawing:
    return drive_picture(bundle, assess(bundle), **more)


def bolts_of(drawing: Drawing, row: int) -> list[Bolt]:
    return [bolt for bolt in drawing.bolts if bolt.row == row]


def test_every_demanded_position_is_drawn_in_old_rows_and_new() -> None:
    drawing = drawn(MEETS)

    # The demo's class D1: 9 bolts a row; two old rows and three new ones.
    assert [len(bolts_of(drawing, row)) for row in (1, 2, 3)] == [9, 9, 9]
    assert sum(bolt.old for bolt in drawing.bolts) == 18
    assert {bolt.state for bolt in drawing.bolts} == {"assumed"}


def test_rows_stand_where_they_were_taped_from_the_joint() -> None:
    spread = with_row(MEETS, 2, ahead_of_row_before=length("0.97"))
    drawing = drawn(spread)

    chainages = [f"{row.x_m:.2f}" for row in drawing.rows]
    assert chainages == ["1385.50", "1386.40", "1387.30", "1388.27", "1389.17"]
    assert last_row_m(spread) == Decimal("1389.17")


def test_a_row_that_nobody_taped_is_in_brackets() -> None:
    drawing = drawn(with_row(MEETS, 3, ahead_of_row_before=None))

    assert [row.x_assumed for row in drawing.rows] == [False, False, False, False, True]
    assert drawing.ticks[-1].text == "(1\u00a0389.1)"
    assert "chainages in brackets are the standard's" in drawing.notes


@pytest.mark.parametrize(
    ("mark", "state"),
    [
        (missing(4), "missing"),
        (BoltSeen(position=4, state="blocked hole"), "missing"),
        (BoltSeen(position=4, state="broken"), "not counting"),
        (loose(4), "loose"),
        (
            BoltSeen(position=4, state="present", plate="seated", angle_over_limit=True),
            "not counting",
        ),
        (BoltSeen(position=4, state="present", plate="seated", corrosion_grade=5), "not counting"),
        (
            BoltSeen(
                position=4, state="present", plate="seated", s_m=Decimal("-1.3"), method="tape"
            ),
            "seated",
        ),
    ],
)
def test_a_bolt_is_drawn_as_it_was_seen(mark: BoltSeen, state: str) -> None:
    drawing = drawn(with_bolts(MEETS, 2, mark))

    assert [bolt.state for bolt in bolts_of(drawing, 2)].count("assumed") == 8
    assert bolts_of(drawing, 2)[3].state == state


def test_a_row_that_nobody_counted_was_not_looked_at() -> None:
    drawing = drawn(with_row(MEETS, 2, counted=None))

    assert {bolt.state for bolt in bolts_of(drawing, 2)} == {"not looked at"}


def test_a_bolt_beside_a_hole_given_up_points_at_the_hole() -> None:
    beside = BoltSeen(
        position=3,
        state="present",
        plate="seated",
        s_m=Decimal("-2.20"),
        method="tape",
        beside=True,
    )
    bolt = bolts_of(drawn(with_bolts(MEETS, 2, beside)), 2)[2]

    # Position 3 of 9 on 9.92 m lies a quarter from the left: s = -2.48 m.
    assert bolt.beside
    assert bolt.s_m == pytest.approx(-2.20)
    assert bolt.off_from is not None
    assert bolt.off_from[0] == bolt.x_m
    assert bolt.off_from[1] == pytest.approx(-2.48, abs=0.01)


def test_a_bolt_that_stands_for_no_position_is_drawn_too() -> None:
    extra = BoltSeen(state="present", plate="seated", s_m=Decimal("0.60"), method="tape")
    drawing = drawn(with_bolts(MEETS, 2, extra))

    assert [(bolt.position, bolt.s_m) for bolt in bolts_of(drawing, 2)][-1] == (None, 0.6)


def test_plates_short_without_a_place_are_said_beside_their_row() -> None:
    drawing = drawn(with_row(MEETS, 2, counted=counted(8)))

    (tag,) = [tag for tag in drawing.tags if "short" in tag.text]
    assert tag.text == "1 plate short, where?"
    assert tag.x_m == pytest.approx(drawing.rows[3].x_m)


def test_the_largest_gap_is_the_circle_that_was_found() -> None:
    bundle = with_bolts(MEETS, 2, missing(7))
    drawing = drawn(bundle)

    (found,) = [it for it in assess(bundle).findings if it.check == "largest_gap"]
    (circle,) = drawing.circles
    assert circle.colour == "rework"
    assert f"{circle.diameter_m:.3f}" == found.measured
    # No bolt that counts lies inside it.
    for bolt in drawing.bolts:
        off = ((bolt.x_m - circle.x_m) ** 2 + (bolt.s_m - circle.s_m) ** 2) ** 0.5
        assert bolt.state == "missing" or off > circle.diameter_m / 2 - 0.01


def test_an_accepted_gap_is_drawn_as_accepted() -> None:
    assert [circle.colour for circle in drawn(MEETS).circles] == ["accept"]


def test_a_lap_is_as_wide_as_it_was_read_and_coloured_by_its_finding() -> None:
    laps = (LapSeen(number=1, least_mm=Decimal(210), held=True),)
    (band,) = drawn(with_round(MEETS, laps=laps)).bands

    assert band.x_to_m - band.x_from_m == pytest.approx(0.210)
    assert (band.x_from_m + band.x_to_m) / 2 == pytest.approx(float(JOINT))
    assert band.colour == "rework"
    assert band.read


def test_a_lap_in_openings_is_as_wide_as_its_pitches() -> None:
    laps = (LapSeen(number=1, openings=4, held=True),)
    (band,) = drawn(with_round(MEETS, laps=laps)).bands

    # 4 openings of the demo's 100 mm pitch.
    assert band.x_to_m - band.x_from_m == pytest.approx(0.400)
    assert band.colour == "measures"


def test_a_lap_that_nobody_read_is_drawn_open() -> None:
    drawing = drawn(with_round(MEETS, laps=()))

    assert [(band.read, band.colour) for band in drawing.bands] == [(False, "quiet")]
    assert not [tag for tag in drawing.tags if tag.text.startswith("lap")]


def test_the_face_runs_through_its_readings() -> None:
    readings: tuple[FaceReading, ...] = (
        FaceReading(where="left", reading=length("0.50")),
        FaceReading(where="middle", reading=length("0.90")),
        FaceReading(where="right", reading=length("0.70")),
    )
    drawing = drawn(with_round(MEETS, face_readings=readings))
    assert drawing.face is not None
    last = drawing.rows[-1].x_m

    places = {round(s, 3): x for x, s in drawing.face.places}
    left, right = min(places), max(places)
    assert drawing.face.read
    assert places[left] - last == pytest.approx(0.50)
    assert places[round((left + right) / 2, 3)] - last == pytest.approx(0.90)
    assert places[right] - last == pytest.approx(0.70)
    (span,) = drawing.spans
    assert span.x_to_m - span.x_from_m == pytest.approx(0.90)


def test_a_face_that_was_not_wholly_read_is_only_guessed() -> None:
    drawing = drawn(with_round(MEETS, face_readings=()))

    assert drawing.face is not None
    assert not drawing.face.read
    assert "face dashed: not wholly read" in drawing.notes


def test_zones_meet_and_cover_the_ground() -> None:
    drawing = drawn(MEETS)

    names = [zone.name for zone in drawing.zones]
    assert names == ["left wall", "left shoulder", "back", "right shoulder", "right wall"]
    assert drawing.zones[0].s_from_m == drawing.s_from_m
    assert drawing.zones[-1].s_to_m == drawing.s_to_m
    # The demo's back reaches 1.9 m from the crown.
    assert (drawing.zones[2].s_from_m, drawing.zones[2].s_to_m) == (-1.9, 1.9)


def test_the_selected_row_and_the_entry_line_are_drawn_where_asked() -> None:
    drawing = drawn(MEETS, selected_row=2, entry_line_m=Decimal("1387.30"))

    assert [row.label for row in drawing.rows if row.selected] == ["2"]
    assert [line.x_m for line in drawing.lines if line.kind == "entry line"] == [1387.3]
    assert [line.x_m for line in drawing.lines if line.kind == "joint"] == [float(JOINT)]


def test_old_rows_can_be_selected() -> None:
    drawing = drawn(MEETS, selected_row=0)

    assert [row.x_m for row in drawing.rows if row.selected] == [float(JOINT)]


def test_a_hole_in_the_mesh_is_named_where_it_is() -> None:
    hole = HoleSeen(
        chainage_m=Decimal("1387.9"), s_m=Decimal("1.2"), openings=3, above_floor_m=Decimal("4.1")
    )
    mesh = MEETS.round.mesh.model_copy(update={"holes": (hole,), "no_holes": False})
    drawing = drawn(with_round(MEETS, mesh=mesh))

    (tag,) = [tag for tag in drawing.tags if tag.text == "hole, 3 openings"]
    assert (tag.x_m, tag.s_m) == (1387.9, 1.2)
    assert tag.colour in ("rework", "no_entry")


def test_without_an_assessment_readings_are_drawn_and_nothing_is_judged() -> None:
    drawing = drive_picture(with_bolts(MEETS, 2, missing(7)))

    assert drawing.circles == ()
    assert {band.colour for band in drawing.bands} == {"measures"}
    assert len(drawing.bolts) == 45


def test_a_round_that_nobody_has_touched_is_drawn() -> None:
    empty = MEETS.round.model_copy(
        update={"rows": (), "laps": (), "mesh": MeshSeen(), "face_readings": (), "old_rows": ()}
    )
    drawing = drawn(MEETS.model_copy(update={"round": empty}))

    assert {bolt.state for bolt in drawing.bolts} == {"not looked at"}
    assert [row.label for row in drawing.rows] == ["1", "2", "3"]


@settings(max_examples=25, deadline=None)
@given(
    code=st.sampled_from(["D1", "O2"]),
    rows=st.integers(1, 8),
    out=st.lists(st.tuples(st.integers(1, 8), st.integers(1, 6)), max_size=6),
)
def test_everything_drawn_lies_on_the_ground_that_is_shown(
    code: str, rows: int, out: list[tuple[int, int]]
) -> None:
    bundle = conforming(code, rows)
    for row, position in out:
        if row <= rows:
            bundle = with_bolts(bundle, row, missing(position))
    drawing = drawn(bundle)

    places = [(bolt.x_m, bolt.s_m) for bolt in drawing.bolts]
    places += [(tag.x_m, tag.s_m) for tag in drawing.tags if "m" not in tag.text]
    places += list(drawing.face.places if drawing.face else ())
    for x_m, s_m in places:
        assert drawing.x_from_m <= x_m <= drawing.x_to_m
        assert drawing.s_from_m <= s_m <= drawing.s_to_m
    assert drawing == drawn(bundle)
