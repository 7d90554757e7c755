"""The walker itself: one planted fault of each kind is found, by the rule of its name."""

from collections.abc import Callable

import pytest
from kivy.graphics import Color, Rectangle
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.floatlayout import FloatLayout
from kivy.uix.label import Label
from kivy.uix.widget import Widget

from fieldapp.ui import theme
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.mark import Mark
from fieldapp.ui.widgets.words import Words
from tests.ui.harness import Tablet
from tests.ui.uilint import RULES, faults

pytestmark = pytest.mark.window


class Page(FloatLayout):
    """A faultless page: two keys 3 mm apart, a line of text, a mark with its word."""

    def __init__(self) -> None:
        super().__init__()
        self.undo = self._key("Undo", 0)
        self.done = self._key("Done", theme.mm(40) + theme.GAP)
        self.line = Words(
            text="Row 3 of 3", size_hint=(None, None), size=(400, 40), pos=(100, 600)
        )
        beside = BoxLayout(size_hint=(None, None), size=(300, 60), pos=(100, 500))
        self.mark = Mark(verdict="rework")
        self.word = Words(text="rework")
        for widget in (self.mark, self.word):
            beside.add_widget(widget)
        for widget in (self.undo, self.done, self.line, beside):
            self.add_widget(widget)

    def _key(self, title: str, offset: int) -> Key:
        width = theme.mm(40)
        return Key(title=title, size_hint_x=None, width=width, pos=(100 + offset, 100))


def small_key(page: Page) -> None:
    page.undo.height = theme.mm(14)


def keys_too_near(page: Page) -> None:
    page.done.x -= theme.mm(0.5)


def keys_touching(page: Page) -> None:
    page.done.x -= theme.GAP


def key_over_key(page: Page) -> None:
    page.done.x -= theme.mm(10)


def text_over_text(page: Page) -> None:
    page.line.pos = (page.word.x, page.word.y)


def key_off_the_glass(page: Page) -> None:
    page.done.x = 1280 - theme.mm(39)


def text_beyond_its_key(page: Page) -> None:
    (title,) = [each for each in page.undo.walk() if getattr(each, "text", "") == "Undo"]
    title.size_hint_x, title.width, title.halign = None, theme.mm(60), "right"


def line_too_long(page: Page) -> None:
    page.line.text = "Row 3 of 3, seen from supported ground, from left to right"


def text_higher_than_its_box(page: Page) -> None:
    page.line.lines = 3
    page.line.text = "Row 3 of 3, seen from supported ground, from left to right"


def plain_label_too_wide(page: Page) -> None:
    label = Label(
        text="Row 3 of 3, seen from supported ground",
        font_name=theme.LETTERS,
        font_size=theme.BODY_TEXT,
        size_hint=(None, None),
        size=(200, 40),
        pos=(700, 600),
    )
    page.add_widget(label)


def tiny_text(page: Page) -> None:
    page.line.asked = 12


def letter_without_a_glyph(page: Page) -> None:
    page.line.text = "Row 三"


def grey_on_grey(page: Page) -> None:
    page.line.ink = (0.35, 0.37, 0.4, 1)


def colour_of_the_ground(page: Page) -> None:
    page.line.ink = tuple(theme.look.ground)


def text_on_a_light_patch(page: Page) -> None:
    with page.canvas.before:
        Color(0.7, 0.72, 0.7, 1)
        Rectangle(pos=(90, 590), size=(70, 60))


def text_that_is_covered(page: Page) -> None:
    cover = Widget(size_hint=(None, None), size=(400, 60), pos=(90, 590))
    with cover.canvas:
        Color(*theme.look.ground)
        Rectangle(pos=cover.pos, size=cover.size)
    page.add_widget(cover)


def mark_without_a_word(page: Page) -> None:
    page.word.text = ""


PLANTED: tuple[tuple[str, Callable[[Page], None]], ...] = (
    ("target", small_key),
    ("gap", keys_too_near),
    ("gap", keys_touching),
    ("overlap", key_over_key),
    ("overlap", text_over_text),
    ("offscreen", key_off_the_glass),
    ("outside", text_beyond_its_key),
    ("clipped", line_too_long),
    ("clipped", text_higher_than_its_box),
    ("clipped", plain_label_too_wide),
    ("text_size", tiny_text),
    ("letters", letter_without_a_glyph),
    ("legible", grey_on_grey),
    ("legible", colour_of_the_ground),
    ("legible", text_on_a_light_patch),
    ("legible", text_that_is_covered),
    ("wordless", mark_without_a_word),
)


def test_a_faultless_page_has_no_fault(tablet: Tablet) -> None:
    tablet.show(Page())

    assert faults(tablet) == []


@pytest.mark.parametrize(
    ("rule", "plant"), PLANTED, ids=lambda each: getattr(each, "__name__", each)
)
def test_a_planted_fault_is_found(
    tablet: Tablet, rule: str, plant: Callable[[Page], None]
) -> None:
    page = Page()
    tablet.show(page)
    plant(page)

    assert rule in {fault.rule for fault in faults(tablet)}


def test_each_rule_has_a_planted_fault() -> None:
    assert {rule for rule, _ in PLANTED} == {rule.__name__ for rule in RULES}
