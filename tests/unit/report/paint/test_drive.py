"""The painted drive: one scale both ways, nothing over bolts, the same picture each time."""

from io import BytesIO
from itertools import pairwise
from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image

from fieldapp.assess import assess
from fieldapp.report.colours import DARK, PAPER, rgb
from fieldapp.report.drive.picture import drive_picture
from fieldapp.report.letters import width_mm
from fieldapp.report.paint.drive import MARK_HALF_MM, Painting, paint_drive
from fieldapp.report.paint.frame import Margins, framed, largest_scale
from fieldapp.report.paint.panel import drive_panel
from fieldapp.report.paint.tags import placed_tags
from fieldapp.report.pens.pdf import A4, PdfPen
from fieldapp.report.png import Look, drive_png
from fieldapp.report.shapes import Bolt, Box, Drawing, RowFrame, Tag, boxes_along
from schemas.bundle import Bundle
from tests.unit.assess.conforming import conforming, loose, missing, with_bolts, with_row
from tests.unit.report.examples import AT, BUNDLE, JUDGED
from tests.unit.report.recording_pen import RecordingPen

SPOILT = with_bolts(with_bolts(conforming("D1", 3), 2, missing(7)), 1, loose(4))
MARGINS = Margins()
ROOM = (186.0, 110.0)
NARROW = (110.0, 120.0)


def drawn(bundle: Bundle) -> Drawing:
    return drive_picture(bundle, assess(bundle))


DRAWINGS = {
    "spoilt": drawn(SPOILT),
    "staggered": drawn(conforming("O2", 4)),
    "by hand": drive_picture(BUNDLE, JUDGED, selected_row=2),
    "long": drawn(conforming("D1", 8)),
}
drawings = pytest.mark.parametrize("drawing", DRAWINGS.values(), ids=DRAWINGS.keys())


def discs_of_seated_bolts(drawing: Drawing) -> list[tuple[float, float]]:
    pen = RecordingPen()
    paint_drive(Painting(pen, framed(drawing, (0, 0), ROOM, MARGINS)))
    return [centre for centre, _, _ in pen.discs]


def test_a_metre_is_as_long_along_the_drive_as_across_it() -> None:
    places = [(0.0, 0.0), (0.0, 4.0), (3.0, 0.0), (3.0, 4.0)]
    bolts = tuple(Bolt(x, s, "seated", 1, number) for number, (x, s) in enumerate(places, 1))
    drawing = Drawing(-1.0, 5.0, -2.0, 6.0, bolts=bolts)

    zero, across, along, slanting = discs_of_seated_bolts(drawing)
    scale = largest_scale(drawing, ROOM, MARGINS)
    assert across[0] - zero[0] == pytest.approx(4.0 * 1000 / scale)
    assert zero[1] - along[1] == pytest.approx(3.0 * 1000 / scale)
    # 3, 4, 5: one scale both ways leaves a right angle right.
    assert hypot(slanting[0] - zero[0], slanting[1] - zero[1]) == pytest.approx(5000 / scale)


def test_the_face_is_above_and_the_left_wall_on_the_left() -> None:
    bolts = (Bolt(1.0, -2.0, "seated", 1, 1), Bolt(3.0, 2.0, "seated", 2, 1))
    near_left, far_right = discs_of_seated_bolts(Drawing(0.0, 4.0, -3.0, 3.0, bolts=bolts))

    assert far_right[1] < near_left[1]
    assert far_right[0] > near_left[0]


@drawings
def test_the_circle_is_round_and_as_wide_as_the_gap(drawing: Drawing) -> None:
    pen = RecordingPen()
    frame = framed(drawing, (0, 0), ROOM, MARGINS)
    paint_drive(Painting(pen, frame))

    dashed = [radius for _, radius, line in pen.circles if line.width_mm == 0.45]
    assert dashed == [
        pytest.approx(gap.diameter_m / 2 * frame.mm_per_m) for gap in drawing.circles
    ]


@drawings
def test_the_ground_and_its_margins_fit_the_room(drawing: Drawing) -> None:
    frame = framed(drawing, (0, 0), ROOM, MARGINS)

    assert frame.left_mm >= MARGINS.left_mm
    assert frame.right_mm + MARGINS.right_mm <= ROOM[0] + 1e-9
    assert frame.bottom_mm + MARGINS.bottom_mm <= ROOM[1] + 1e-9


@drawings
def test_tags_hide_no_bolt_and_no_other_tag(drawing: Drawing) -> None:
    frame = framed(drawing, (0, 0), ROOM, MARGINS)
    tags = [place for place in placed_tags(frame, MARK_HALF_MM) if place is not None]

    half = MARK_HALF_MM
    marks = [
        Box(x - half, y - half, 2 * half, 2 * half)
        for x, y in (frame.at(bolt.x_m, bolt.s_m) for bolt in drawing.bolts)
    ]
    assert tags
    assert not [tag for tag in tags for mark in marks if tag.meets(mark)]
    assert not [one for one, other in pairwise(tags) if one.meets(other)]


@drawings
@pytest.mark.parametrize("room", [ROOM, NARROW])
def test_tags_hide_no_face_however_narrow_the_room(
    drawing: Drawing, room: tuple[float, float]
) -> None:
    frame = framed(drawing, (0, 0), room, MARGINS)
    tags = [place for place in placed_tags(frame, MARK_HALF_MM) if place is not None]

    assert drawing.face is not None
    face = boxes_along([frame.at(*place) for place in drawing.face.places], 0.1)
    assert not [tag for tag in tags for step in face if tag.meets(step)]


@settings(max_examples=40, deadline=None)
@given(
    apart=st.floats(0.3, 2.0),
    tags=st.lists(st.tuples(st.floats(0, 6), st.floats(-4, 4)), max_size=12),
)
def test_tags_never_hide_a_bolt_however_close_they_stand(
    apart: float, tags: list[tuple[float, float]]
) -> None:
    bolts = tuple(
        Bolt(row * apart, position * apart, "assumed", row, position)
        for row in range(int(6 / apart) + 1)
        for position in range(-int(4 / apart), int(4 / apart) + 1)
    )
    drawing = Drawing(
        -0.5,
        6.5,
        -4.5,
        4.5,
        bolts=bolts,
        tags=tuple(Tag("1.893 m", x, s, "rework") for x, s in tags),
    )
    frame = framed(drawing, (0, 0), ROOM, MARGINS)
    half = Painting(RecordingPen(), frame).mark_half_mm

    places = [place for place in placed_tags(frame, half) if place is not None]
    for bolt in bolts:
        x, y = frame.at(bolt.x_m, bolt.s_m)
        assert not any(p.meets(Box(x - half, y - half, 2 * half, 2 * half)) for p in places)
    for number, one in enumerate(places):
        assert not any(one.meets(other) for other in places[number + 1 :])


def test_numbers_of_rows_give_way_rather_than_lie_over_each_other() -> None:
    rows = tuple(RowFrame(str(n), n, n * 0.3, -2, 2) for n in range(1, 9))
    pen = RecordingPen()
    drawing = Drawing(0.0, 30.0, -2.0, 2.0, rows=rows)
    paint_drive(Painting(pen, framed(drawing, (0, 0), ROOM, MARGINS)))

    heights = sorted(at[1] for _, at, _ in pen.words)
    assert len(heights) >= 2
    assert all(b - a > 3.0 for a, b in pairwise(heights))


@pytest.mark.parametrize("look", ["dark", "bright", "paper"])
def test_the_same_drawing_gives_the_same_picture(look: Look) -> None:
    assert drive_png(DRAWINGS["spoilt"], look) == drive_png(DRAWINGS["spoilt"], look)


def test_the_same_drawing_gives_the_same_page() -> None:
    printed = []
    for _ in range(2):
        with PdfPen(A4, PAPER, "drive", AT) as pen:
            drive_panel(DRAWINGS["spoilt"], (12, 12), ROOM).paint(pen)
            printed.append(pen.output())

    assert printed[0] == printed[1]


def test_a_picture_has_the_ground_of_its_look_and_the_marks_of_what_was_found() -> None:
    picture = Image.open(BytesIO(drive_png(DRAWINGS["spoilt"], "dark", px_per_mm=6.0)))
    colours = {colour for _, colour in picture.convert("RGB").getcolors(1 << 24) or ()}

    assert picture.width == 190 * 6
    assert picture.convert("RGB").getpixel((1, 1)) == _bytes(DARK.ground)
    for meaning in (DARK.no_entry, DARK.rework, DARK.text, DARK.measures):
        assert _bytes(meaning) in colours


def test_the_picture_shows_a_bolt_where_the_frame_puts_it() -> None:
    bolts = (Bolt(1.0, 0.0, "missing", 1, 1),)
    drawing = Drawing(0.0, 2.0, -2.0, 2.0, bolts=bolts)
    panel = drive_panel(drawing, (4.0, 4.0), (182.0, 400.0))
    picture = Image.open(BytesIO(drive_png(drawing, "paper", px_per_mm=8.0))).convert("RGB")

    x, y = (round(8.0 * part) for part in panel.frame.at(1.0, 0.0))
    assert picture.getpixel((x, y)) == _bytes(PAPER.no_entry)


def test_the_legend_names_what_is_drawn_and_nothing_else() -> None:
    pen = RecordingPen()
    drive_panel(DRAWINGS["spoilt"], (0, 0), ROOM).paint(pen)
    words = {text for text, _, _ in pen.words}

    assert {"counted, plate seated", "plate loose", "missing", "mesh lap", "largest gap"} <= words
    assert "not looked at" not in words
    assert "there, doesn't count" not in words


def test_what_was_not_looked_at_is_in_the_legend_when_it_is_drawn() -> None:
    pen = RecordingPen()
    drawing = drawn(with_row(SPOILT, 3, counted=None))
    drive_panel(drawing, (0, 0), ROOM).paint(pen)

    assert "not looked at" in {text for text, _, _ in pen.words}


@drawings
def test_no_words_of_the_panel_leave_its_room(drawing: Drawing) -> None:
    pen = RecordingPen()
    panel = drive_panel(drawing, (0, 0), ROOM)
    panel.paint(pen)

    for text, (x, y), kind in pen.words:
        wide = width_mm(text, kind.size_pt, bold=kind.bold)
        left = x - {"left": 0.0, "middle": wide / 2, "right": wide}[kind.align]
        assert left >= -0.1
        assert left + wide <= ROOM[0] + 0.1
        assert 0 <= y <= panel.high_mm


def _bytes(colour: str) -> tuple[int, ...]:
    return tuple(round(part * 255) for part in rgb(colour))
