"""Letters: measured as the fonts draw them, broken only where they may be."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageFont

from fieldapp.report.letters import MM_PER_POINT, cut, font_file, runs, width_mm, wrapped

texts = st.text(st.characters(codec="utf-8", exclude_categories=("Cs", "Cc")), max_size=80)
rooms = st.floats(8.0, 200.0)


@pytest.mark.parametrize("bold", [False, True])
@pytest.mark.parametrize("text", ["1 386.4 m", "Wrenfall Decline", "± 0.037 · “seen” ≤ µ"])
def test_a_text_is_as_wide_as_its_font_draws_it(text: str, bold: bool) -> None:  # noqa: FBT001
    font = ImageFont.truetype(
        str(font_file("B612", bold=bold)), 2000, layout_engine=ImageFont.Layout.BASIC
    )

    # 2000 units to the em in B612: at 2000 px a pixel is a unit.
    drawn = font.getlength(text) / 2000 * 10.0 * MM_PER_POINT
    assert width_mm(text, 10.0, bold=bold) == pytest.approx(drawn, rel=1e-3)


def test_letters_that_b612_lacks_are_drawn_by_the_other_font() -> None:
    assert list(runs("Ж12")) == [("NotoSans", "Ж"), ("B612", "12")]


def test_a_letter_that_no_font_has_is_seen_to_be_missing() -> None:
    assert list(runs("鉱山 1")) == [("NotoSans", "\ufffd\ufffd"), ("B612", " 1")]


@given(texts, rooms)
def test_no_line_is_wider_than_its_room(text: str, room: float) -> None:
    for line in wrapped(text, 9.0, room):
        assert width_mm(line, 9.0) <= room + 1e-6


@given(texts, rooms)
def test_no_letter_is_lost_by_breaking(text: str, room: float) -> None:
    kept = "".join(wrapped(text, 9.0, room))

    assert kept.replace(" ", "") == text.replace(" ", "")


def test_a_number_is_not_torn_from_its_unit() -> None:
    lines = wrapped("at most 1.73\u00a0m here", 9.0, width_mm("at most 1.73", 9.0) + 1.0)

    assert lines == ["at most", "1.73\u00a0m here"]


@given(texts, rooms)
def test_a_cut_text_fits_and_shows_that_it_was_cut(text: str, room: float) -> None:
    whole = " ".join(word for word in text.split(" ") if word)
    short = cut(text, 9.0, room)

    assert width_mm(short, 9.0) <= room + 1e-6
    assert short == whole or short.endswith("…")
