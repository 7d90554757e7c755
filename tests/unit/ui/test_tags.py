"""Tags on the map: near what they speak of, never over a bolt or another tag."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from fieldapp.report.shapes import Bolt, Box, Drawing, Tag
from fieldapp.ui.drive.painter import Scale, mark_centres
from fieldapp.ui.drive.tags import place_tags
from fieldapp.ui.drive.view import Ground, Window, fitted

GROUND = Ground(0.0, 8.0, -6.0, 6.0)
SIZE = (90.0, 36.0)

places = st.tuples(st.floats(0, 8), st.floats(-6, 6))


def scale_at(times: float) -> Scale:
    view = fitted(GROUND, Window(0, 0, 640, 500)).zoomed(times, (320, 250))
    return Scale(replace(view, left_px=0, bottom_px=0), 5.884)


@given(
    bolts=st.lists(places, max_size=60),
    tags=st.lists(places, max_size=8),
    times=st.floats(1, 4),
)
@settings(deadline=None)
def test_a_tag_hides_no_bolt_and_no_other_tag(
    bolts: list[tuple[float, float]], tags: list[tuple[float, float]], times: float
) -> None:
    drawing = Drawing(
        *(GROUND.x_from_m, GROUND.x_to_m, GROUND.s_from_m, GROUND.s_to_m),
        bolts=tuple(Bolt(x_m, s_m, "seated", 1, 1) for x_m, s_m in bolts),
        tags=tuple(Tag("2.43 m", x_m, s_m, "no_entry") for x_m, s_m in tags),
    )
    scale = scale_at(times)
    half = scale.mark_px / 2

    placed = place_tags(drawing, scale, [SIZE] * len(tags))

    marks = [
        Box(x - half, y - half, 2 * half, 2 * half)
        for x, y in mark_centres(drawing, scale).tolist()
    ]
    boxes = [tag.box for tag in placed]
    assert not any(box.meets(mark) for box in boxes for mark in marks)
    assert not any(
        one.meets(other) for number, one in enumerate(boxes) for other in boxes[:number]
    )


@given(tag=places)
def test_a_lone_tag_always_finds_room(tag: tuple[float, float]) -> None:
    drawing = Drawing(0.0, 8.0, -6.0, 6.0, tags=(Tag("2.43 m", *tag, "no_entry"),))

    assert len(place_tags(drawing, scale_at(1), [SIZE])) == 1


def test_the_same_drawing_gives_the_same_places() -> None:
    drawing = Drawing(
        *(0.0, 8.0, -6.0, 6.0),
        bolts=tuple(
            Bolt(row * 1.2, -5 + 1.25 * n, "seated", 1, n) for row in range(6) for n in range(9)
        ),
        tags=tuple(Tag("2.43 m", 3.0, -4.0 + n, "no_entry") for n in range(6)),
    )

    first, second = (place_tags(drawing, scale_at(1.5), [SIZE] * 6) for _ in range(2))

    assert first == second
