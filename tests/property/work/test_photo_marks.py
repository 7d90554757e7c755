"""Marks read back as they were drawn, at any size; a decimated line stays where it was drawn."""

from hypothesis import given
from hypothesis import strategies as st

from fieldapp.report.photo_shapes import Stroke, Tag, shapes_of_marks
from fieldapp.work.photo.marks import FINEST, decimated, outline, spot
from schemas.bodies.photo_marks import Arrow, Mark, PhotoMarks, Ring, Words

Place = tuple[float, float]
shares = st.floats(0, 1)
places = st.tuples(shares, shares)
paths = st.lists(places, min_size=3, max_size=60)
marks: st.SearchStrategy[Mark] = st.one_of(
    st.builds(
        Arrow, kind=st.just("arrow"), from_spot=st.builds(spot, places),
        to_spot=st.builds(spot, places),
    ),
    st.builds(
        Ring, kind=st.just("ring"), centre=st.builds(spot, places), rim=st.builds(spot, places)
    ),
    st.builds(
        Words, kind=st.just("words"), at=st.builds(spot, places),
        text=st.text(min_size=1, max_size=100),
    ),
    paths.map(outline).filter(lambda it: it is not None),
)  # fmt: skip


@given(st.lists(marks, max_size=12))
def test_marks_read_back_as_they_were_drawn(drawn: list[Mark]) -> None:
    said = PhotoMarks(photo="p", marks=tuple(drawn))

    assert PhotoMarks.model_validate(said.model_dump(mode="json")) == said


@given(st.lists(marks, min_size=1, max_size=5), st.floats(0.3, 3))
def test_every_mark_is_seen(drawn: list[Mark], aspect: float) -> None:
    shapes = shapes_of_marks(drawn, aspect)

    assert len([it for it in shapes if isinstance(it, Stroke | Tag)]) >= len(drawn)


@given(paths)
def test_no_point_of_a_line_is_left_out_that_lies_off_what_is_kept(
    path: list[tuple[float, float]],
) -> None:
    kept = decimated(path, FINEST)

    assert kept[0] == path[0]
    assert kept[-1] == path[-1]
    assert set(kept) <= set(path)
    assert max(_from_line(at, kept) for at in path) <= FINEST + 1e-9


def _from_line(at: Place, line: list[Place]) -> float:
    """How far a point is from a line of points: the nearest of its legs."""
    far: list[float] = []
    for (x0, y0), (x1, y1) in zip(line, line[1:] or line, strict=False):
        wide, high = x1 - x0, y1 - y0
        length2 = wide * wide + high * high
        share = ((at[0] - x0) * wide + (at[1] - y0) * high) / length2 if length2 else 0
        share = min(max(share, 0), 1)
        far.append(((at[0] - x0 - share * wide) ** 2 + (at[1] - y0 - share * high) ** 2) ** 0.5)
    return min(far)
