"""The contrast that the theme and the walker use, against published pairs of WCAG 2."""

from itertools import product

import pytest

from fieldapp.report.colours import BRIGHT, DARK, PAPER, Palette, contrast, luminance, rgb
from tests.reference.record import reference

WHITE, BLACK = rgb("#FFFFFF"), rgb("#000000")
PALETTES = {"dark": DARK, "bright": BRIGHT, "paper": PAPER}

TEXT_PAIRS = (
    *product(("text", "quiet", "lamp"), ("ground", "panel")),
    ("text", "key"),
    ("text", "key_pressed"),
    ("lamp_ink", "lamp"),
    ("mark_ink", "no_entry"),
    ("ground", "quiet"),  # a key while it is pressed
)
"""What is written on what, anywhere in the app."""
MARK_PAIRS = tuple(
    product(("accept", "rework", "no_entry", "measures", "quiet", "outline"), ("ground", "panel"))
)
"""What is drawn on what: marks, and the edges of keys."""


@reference("WCAG 2.2, relative luminance: 0 for darkest black, 1 for lightest white", "published")
def test_black_and_white_end_the_scale() -> None:
    assert luminance(BLACK) == 0
    assert luminance(WHITE) == pytest.approx(1)


@reference("WCAG 2.2, contrast ratio: ranges from 1 to 21", "published")
def test_black_on_white_is_21() -> None:
    assert contrast(BLACK, WHITE) == pytest.approx(21)
    assert contrast(WHITE, WHITE) == pytest.approx(1)


@pytest.mark.parametrize(
    ("colour", "ratio"),
    # 4.478 is written 4.47 by those who cut it off and 4.48 by those who round it.
    [("#777777", 4.478), ("#767676", 4.54), ("#595959", 7.00), ("#333333", 12.63)],
)
@reference(
    "greys on white at the borders of levels AA and AAA, as contrast checkers state them",
    "published",
)
def test_greys_on_white(colour: str, ratio: float) -> None:
    assert contrast(rgb(colour), WHITE) == pytest.approx(ratio, abs=0.005)


@pytest.mark.parametrize(
    ("colour", "ratio"),
    [("#FF0000", 4.00), ("#0000FF", 8.59), ("#008000", 5.14), ("#FFFF00", 1.07)],
)
@reference("primary colours on white, as contrast checkers state them", "from memory")
def test_primary_colours_on_white(colour: str, ratio: float) -> None:
    assert contrast(rgb(colour), WHITE) == pytest.approx(ratio, abs=0.005)


@pytest.mark.parametrize(
    ("part", "share"), [("#FF0000", 0.2126), ("#00FF00", 0.7152), ("#0000FF", 0.0722)]
)
@reference("WCAG 2.2, relative luminance: weights of red, green and blue", "published")
def test_luminance_of_each_primary(part: str, share: float) -> None:
    assert luminance(rgb(part)) == pytest.approx(share)


@pytest.mark.parametrize(("ink", "ground"), TEXT_PAIRS)
@pytest.mark.parametrize("palette", PALETTES.values(), ids=PALETTES)
@reference("WCAG 2.2, success criterion 1.4.6: 7 : 1 for text", "published")
def test_text_of_each_look_passes_7(palette: Palette, ink: str, ground: str) -> None:
    assert contrast(palette.rgb(ink), palette.rgb(ground)) >= 7.0


@pytest.mark.parametrize(("ink", "ground"), MARK_PAIRS)
@pytest.mark.parametrize("palette", PALETTES.values(), ids=PALETTES)
@reference("WCAG 2.2, success criterion 1.4.11: 3 : 1 for graphical objects", "published")
def test_marks_of_each_look_pass_3(palette: Palette, ink: str, ground: str) -> None:
    assert contrast(palette.rgb(ink), palette.rgb(ground)) >= 3.0


@pytest.mark.parametrize("meaning", ["accept", "rework", "no_entry", "measures"])
@pytest.mark.parametrize("palette", PALETTES.values(), ids=PALETTES)
@reference("WCAG 2.2, success criterion 1.4.11: 3 : 1 for graphical objects", "published")
def test_what_is_cut_into_a_mark_is_seen(palette: Palette, meaning: str) -> None:
    assert contrast(palette.rgb("mark_ink"), palette.rgb(meaning)) >= 3.0
