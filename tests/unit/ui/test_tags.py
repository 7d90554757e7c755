"""Tags on the map: near what they speak of, never over a bolt, the face or another tag."""

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.assess.walk import Section
from fieldapp.report.shapes import Bolt, Box, Circle, Drawing, FaceLine, Tag
from fieldapp.report.walk_picture import numbered, with_marks
from fieldapp.ui.drive.painter import Scale, mark_centres
from fieldapp.ui.drive.tags import place_tags
from fieldapp.ui.drive.view import Ground, Window, fitted

GROUND = Ground(0.0, 8.0, -6.0, 6.0)
SIZE = (90.0, 36.0)

places = st.tuples(st.floats(0, 8), st.floats(-6, 6))
faces = st.lists(st.floats(3, 8), min_size=2, max_size=20).map(
    lambda ahead: FaceLine(
        tuple((x_m, -6 + 12 * n / (len(ahead) - 1)) for n, x_m in enumerate(ahead))
    )
)


def along(face: FaceLine) -> Iterator[tuple[float, float]]:
    """Give places close to each other all along the face, also far between its readings."""
    for (x_m, s_m), (next_x_m, next_s_m) in pairwise(face.places):
        for step in range(101):
            share = step / 100
            yield x_m + share * (next_x_m - x_m), s_m + share * (next_s_m - s_m)


def lies_on(point: tuple[float, float], box: Box) -> bool:
    x, y = point
    return box.x < x < box.x + box.wide and box.y < y < box.y + box.high


def scale_at(times: float) -> Scale:
    view = fitted(GROUND, Window(0, 0, 640, 500)).zoomed(times, (320, 250))
    return Scale(replace(view, left_px=0, bottom_px=0), 5.884)


@given(
    bolts=st.lists(places, max_size=60),
    face=faces,
    tags=st.lists(places, max_size=8),
    times=st.floats(1, 4),
)
@settings(deadline=None)
def test_a_tag_hides_no_bolt_no_face_and_no_other_tag(
    bolts: list[tuple[float, float]],
    face: FaceLine,
    tags: list[tuple[float, float]],
    times: float,
) -> None:
    drawing = Drawing(
        *(GROUND.x_from_m, GROUND.x_to_m, GROUND.s_from_m, GROUND.s_to_m),
        bolts=tuple(Bolt(x_m, s_m, "seated", 1, 1) for x_m, s_m in bolts),
        face=face,
        tags=tuple(Tag("2.43 m", x_m, s_m, "no_entry") for x_m, s_m in tags),
    )
    scale = scale_at(times)
    half = scale.mark_px / 2

    placed = place_tags(drawing, scale, lambda _text: SIZE)

    marks = [
        Box(x - half, y - half, 2 * half, 2 * half)
        for x, y in mark_centres(drawing, scale).tolist()
    ]
    boxes = [tag.box for tag in placed]
    assert not any(box.meets(mark) for box in boxes for mark in marks)
    assert not any(lies_on(scale.at(*place), box) for place in along(face) for box in boxes)
    assert not any(
        one.meets(other) for number, one in enumerate(boxes) for other in boxes[:number]
    )


@given(tag=places)
def test_a_lone_tag_always_finds_room(tag: tuple[float, float]) -> None:
    drawing = Drawing(0.0, 8.0, -6.0, 6.0, tags=(Tag("2.43 m", *tag, "no_entry"),))

    assert len(place_tags(drawing, scale_at(1), lambda _text: SIZE)) == 1


@pytest.mark.parametrize("times", [1, 2, 4])
def test_a_tag_stands_beside_the_mark_of_its_damage_and_leaves_all_of_it_in_sight(
    times: float,
) -> None:
    scale = scale_at(times)
    marks = tuple(Circle(x_m, s_m, 1.0, "quiet") for x_m, s_m in ((3.0, -2.0), (4.2, -1.0)))
    drawing = Drawing(
        *(GROUND.x_from_m, GROUND.x_to_m, GROUND.s_from_m, GROUND.s_to_m),
        circles=marks,
        tags=tuple(Tag("mesh S1", it.x_m, it.s_m, "quiet") for it in marks),
    )
    placed = place_tags(drawing, scale, lambda _text: SIZE)
    half = 0.5 * scale.view.px_per_m
    around = [(x - half, y - half) for x, y in (scale.at(it.x_m, it.s_m) for it in marks)]

    assert len(placed) == 2
    assert not any(
        tag.box.meets(Box(*corner, 2 * half, 2 * half)) for tag in placed for corner in around
    )


@given(at=st.lists(places, min_size=5, max_size=9), times=st.floats(1, 4))
@settings(deadline=None)
def test_no_tag_stands_nearer_to_the_mark_of_another_place_than_to_its_own(
    at: list[tuple[float, float]], times: float
) -> None:
    scale = scale_at(times)
    drawing = Drawing(
        *(GROUND.x_from_m, GROUND.x_to_m, GROUND.s_from_m, GROUND.s_to_m),
        circles=tuple(Circle(x_m, s_m, 1.0, "lamp") for x_m, s_m in at),
        tags=tuple(Tag("straps S2", x_m, s_m, "lamp") for x_m, s_m in at),
    )

    for tag in place_tags(drawing, scale, lambda _text: SIZE):
        assert all(tag.box.away(tag.point) <= tag.box.away(scale.at(*it)) for it in at)


def test_what_was_just_placed_on_a_walk_has_the_first_choice_of_room() -> None:
    section = Section(Decimal(0), Decimal(8))
    first, second = ({"zone": "back", "s_m": "0", "part": it} for it in ("laps", "straps"))
    empty = Drawing(GROUND.x_from_m, GROUND.x_to_m, GROUND.s_from_m, GROUND.s_to_m)
    known = with_marks(empty, section, [first], "quiet")

    tags = with_marks(known, section, [second, first], "lamp").tags

    assert [(it.text, it.colour) for it in tags] == [
        ("laps", "lamp"),
        ("straps", "lamp"),
        ("laps", "quiet"),
    ]


def test_words_that_find_no_room_leave_their_number_which_a_list_explains() -> None:
    section = Section(Decimal(0), Decimal(8))
    things = [{"zone": "back", "s_m": "0", "part": "shotcrete", "chainage_m": "4"}] * 40
    empty = Drawing(GROUND.x_from_m, GROUND.x_to_m, GROUND.s_from_m, GROUND.s_to_m)
    drawing = numbered(with_marks(empty, section, things, "lamp"))
    narrow = (8.0, 12.0)

    placed = place_tags(drawing, scale_at(1), lambda it: narrow if it.isdigit() else SIZE)

    said = [it.text for it in placed]
    assert said[0] == "shotcrete"
    assert [it for it in said if it.isdigit()]
    assert all(it.text in ("shotcrete", drawing.tags[it.number].number) for it in placed)


def test_the_same_drawing_gives_the_same_places() -> None:
    drawing = Drawing(
        *(0.0, 8.0, -6.0, 6.0),
        bolts=tuple(
            Bolt(row * 1.2, -5 + 1.25 * n, "seated", 1, n) for row in range(6) for n in range(9)
        ),
        tags=tuple(Tag("2.43 m", 3.0, -4.0 + n, "no_entry") for n in range(6)),
    )

    first, second = (place_tags(drawing, scale_at(1.5), lambda _text: SIZE) for _ in range(2))

    assert first == second
