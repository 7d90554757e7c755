"""What keys do under a finger."""

import pytest
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.floatlayout import FloatLayout
from kivy.uix.widget import Widget

from fieldapp.ui import theme
from fieldapp.ui.widgets.hold_key import HoldKey
from fieldapp.ui.widgets.key import Key
from fieldapp.ui.widgets.key_row import KeyRow
from tests.ui.harness import PORTRAIT, Tablet
from tests.ui.laid_out import column

pytestmark = pytest.mark.window


def test_a_key_turns_over_within_a_frame_of_the_touch(tablet: Tablet) -> None:
    key = Key(title="Undo", tall=True)
    tablet.show(column(key, Widget()))
    before = tablet.colour_at(key)

    tablet.press(key)
    pressed = tablet.colour_at(key)
    tablet.let_go()
    tablet.settle()

    assert pressed != before
    assert tablet.colour_at(key) == before


def test_a_key_acts_when_the_finger_leaves_it(tablet: Tablet) -> None:
    told: list[object] = []
    key = Key(title="Undo", on_release=told.append)
    tablet.show(column(key, Widget()))

    tablet.press(key)
    assert told == []
    tablet.let_go()

    assert told == [key]


def test_a_key_that_is_hidden_takes_no_touch_from_what_lies_under_it(tablet: Tablet) -> None:
    told: list[object] = []
    under = Key(title="Look again", on_release=told.append)
    hidden = Key(title="Records are missing", disabled=True)
    line = BoxLayout(opacity=0)
    line.add_widget(hidden)
    over = FloatLayout()
    for each in (under, line):
        over.add_widget(each)
    tablet.show(over)

    at = tablet.place_of(hidden)
    tablet.tap(at)
    line.opacity = 1
    tablet.tap(at)

    assert told == [under], "in sight it takes the touch, though nothing can be done with it"


def test_sliding_off_a_key_takes_the_touch_back(tablet: Tablet) -> None:
    told: list[object] = []
    key = Key(title="Undo", on_release=told.append)
    tablet.show(column(key, Widget()))
    x, y = tablet.place_of(key)

    tablet.drag([(x, y), (x, y - 300)])

    assert told == []


def test_keys_that_are_gone_do_not_slow_down_those_that_come(tablet: Tablet) -> None:
    """A tablet stays on for weeks, and each screen makes its keys anew."""
    asked = len(theme.look.get_property_observers("palette"))

    for _ in range(20):
        tablet.show(column(Key(title="Undo", tall=True), Widget()))

    assert len(theme.look.get_property_observers("palette")) == asked


def test_a_key_follows_the_look(tablet: Tablet) -> None:
    key = Key(title="Undo", tall=True)
    tablet.show(column(key, Widget()))
    dark = tablet.colour_at(key)

    theme.look.use("bright")
    tablet.settle()

    assert tablet.colour_at(key) != dark


def test_a_disabled_key_does_nothing(tablet: Tablet) -> None:
    told: list[object] = []
    key = Key(title="Review and sign", disabled=True, on_release=told.append)
    tablet.show(column(key, Widget()))

    tablet.tap(key)

    assert told == []


def test_a_held_key_acts_once_after_its_time(tablet: Tablet) -> None:
    told: list[object] = []
    key = HoldKey(title="Sign", on_held=told.append)
    tablet.show(column(key, Widget()))

    tablet.hold(key, theme.HOLD_S + 0.4)

    assert told == [key]


def test_a_held_key_fills_meanwhile(tablet: Tablet) -> None:
    key = HoldKey(title="Sign")
    tablet.show(column(key, Widget()))

    tablet.press(key)
    tablet.until(lambda: key.filled > 0.4)
    half = key.filled
    tablet.let_go()

    assert 0.4 < half < 1
    assert key.filled == 0


def test_letting_go_early_does_nothing(tablet: Tablet) -> None:
    told: list[object] = []
    key = HoldKey(title="Sign", on_held=told.append)
    tablet.show(column(key, Widget()))

    tablet.hold(key, theme.HOLD_S / 2)
    tablet.wait(theme.HOLD_S)

    assert told == []


def test_sliding_off_a_held_key_does_nothing(tablet: Tablet) -> None:
    told: list[object] = []
    key = HoldKey(title="Sign", on_held=told.append)
    tablet.show(column(key, Widget()))
    x, y = tablet.place_of(key)

    tablet.drag([(x, y), (x, y - 300)], stay=theme.HOLD_S + 0.3)

    assert told == []


def test_keys_stand_in_two_lines_when_the_tablet_is_turned(tablet: Tablet) -> None:
    row = KeyRow()
    for number in range(5):
        row.add_widget(Key(title=f"{number}", tall=True))
    tablet.show(column(Widget(), row))
    lying = {key.y for key in row.children}
    tablet.turn(PORTRAIT)

    assert len(lying) == 1
    assert len({key.y for key in row.children}) == 2
    assert row.height == 2 * theme.MAIN_HEIGHT + theme.GAP


def test_a_key_that_appears_gets_its_place(tablet: Tablet) -> None:
    keys = KeyRow()
    hidden = Key(title="Salvage", tall=True, opacity=0)
    for key in (hidden, Key(title="Try again", tall=True)):
        keys.add_widget(key)
    tablet.show(column(keys))

    hidden.opacity = 1
    tablet.settle()

    assert hidden.right < tablet.find("Try again").x
