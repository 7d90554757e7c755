"""Marks, words and looks."""

import pytest
from kivy.uix.widget import Widget

from fieldapp.ui import theme
from fieldapp.ui.names import fewer_words
from fieldapp.ui.theme import look
from fieldapp.ui.widgets.heading_row import HeadingRow
from fieldapp.ui.widgets.mark import Mark
from fieldapp.ui.widgets.stretch_card import StretchCard
from fieldapp.ui.widgets.words import Words
from tests.ui.harness import Tablet
from tests.ui.laid_out import column

pytestmark = pytest.mark.window


def test_marks_differ_without_colour(tablet: Tablet) -> None:
    verdicts = Mark.verdict.options[1:]
    marks = [Mark(verdict=verdict, size=(60, 60)) for verdict in verdicts]
    tablet.show(column(*marks))

    shapes = {tablet.picture_of(mark).convert("L").point(_ink).tobytes() for mark in marks}

    assert len(shapes) == 6


def _ink(light: int) -> int:
    return 255 if light > 90 else 0


def test_long_words_step_down_before_they_are_cut(tablet: Tablet) -> None:
    words = Words(text="4180 Ore Drive North", size_hint=(None, None), size=(256, 40))
    tablet.show(column(words, Widget()))

    assert theme.SMALLEST_TEXT <= words.font_size < theme.BODY_TEXT
    assert not words.is_shortened


def test_words_are_never_smaller_than_allowed(tablet: Tablet) -> None:
    words = Words(text="4180 Ore Drive North", size_hint=(None, None), size=(120, 40))
    tablet.show(column(words, Widget()))

    assert words.font_size == theme.SMALLEST_TEXT
    assert words.is_shortened


def test_a_low_card_says_less_of_why_and_spills_nothing(tablet: Tablet) -> None:
    why = fewer_words(
        "restricted: torn mesh at 1 204.6 m, left wall, P3: nobody on foot beneath: hole"
    )
    card = StretchCard(where="Outbye: the way in", state="to 1 385.8 m", details=why)
    card.size_hint, card.size = (None, None), (500, 133)
    tablet.show(column(card, Widget()))
    told = card.children[0]

    assert told.height <= card.height
    assert told.children[0].text.startswith("restricted: torn mesh")


@pytest.mark.parametrize(
    ("text", "font"),
    [
        ("Round 214 · 1 386.4 m ≥ 300 mm", "B612"),
        ("año, façade, Größe", "B612"),
        ("Łódź, szyb", "Noto Sans"),
        ("Ствол 3", "Noto Sans"),
        ("■ ▲", "DejaVuSans"),
    ],
)
def test_letters_come_from_a_font_that_has_them(text: str, font: str) -> None:
    assert theme.font_for(text) == font


def test_usual_letters_are_all_in_both_weights_of_b612() -> None:
    from fontTools.ttLib import TTFont

    for file in theme.FONT_FILES[theme.LETTERS]:
        with TTFont(file, lazy=True) as font:
            drawn = {*map(chr, font.getBestCmap()), "\n"}
        assert drawn >= theme.USUAL_LETTERS


def test_another_look_repaints_what_is_there(tablet: Tablet) -> None:
    row = HeadingRow(heading="4180 Main", entry="to 611.2 m", verdict="accept")
    tablet.show(column(row, Widget()))
    dark = tablet.picture()

    look.use("bright")
    tablet.settle()
    fresh = HeadingRow(heading="4180 Main", entry="to 611.2 m", verdict="accept")
    changed = tablet.picture()
    tablet.show(column(fresh, Widget()))

    assert changed.tobytes() != dark.tobytes()
    assert changed.tobytes() == tablet.picture().tobytes()
