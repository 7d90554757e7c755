"""Marks as small pictures."""

import pytest

from fieldapp.report.colours import BRIGHT, DARK, Palette, rgb
from fieldapp.report.mark_pixels import mark_picture
from fieldapp.report.marks import BOLT_MARKS, VERDICT_MARKS

ALL = {**VERDICT_MARKS, **{f"bolt {state}": mark for state, mark in BOLT_MARKS.items()}}


def bytes_of(colour: str) -> tuple[int, ...]:
    return tuple(round(part * 255) for part in rgb(colour))


@pytest.mark.parametrize("palette", [DARK, BRIGHT], ids=["dark", "bright"])
@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("side_px", [14, 39])
def test_a_mark_fills_its_square_and_stays_inside(
    name: str, side_px: int, palette: Palette
) -> None:
    picture = mark_picture(ALL[name], side_px, palette)

    left, top, right, bottom = picture.getchannel("A").getbbox() or (0, 0, 0, 0)

    assert picture.size == (side_px, side_px)
    assert right - left >= 0.7 * side_px
    assert bottom - top >= 0.7 * side_px


@pytest.mark.parametrize("name", ["accept", "rework", "no entry"])
def test_edges_are_not_darker_than_the_mark(name: str) -> None:
    # Cover and colour are shrunk apart: a half-covered pixel keeps the mark's own colour.
    picture = mark_picture(ALL[name], 39, DARK)
    mark = bytes_of(getattr(DARK, ALL[name].colour))

    pixels = [picture.getpixel((x, y)) for x in range(39) for y in range(39)]
    edges = [p[:3] for p in pixels if isinstance(p, tuple) and 0 < p[3] < 255]

    assert edges
    assert set(edges) == {mark}


def test_another_colour_may_be_asked_for() -> None:
    picture = mark_picture(BOLT_MARKS["seated"], 40, DARK, "quiet")

    assert picture.getpixel((20, 20)) == (*bytes_of(DARK.quiet), 255)
