"""How values are given: chips, the number pad, sign codes."""

from typing import Any

import pytest
from kivy.uix.widget import Widget

from fieldapp.ui.widgets.chip_row import ChipRow
from fieldapp.ui.widgets.number_pad import NumberPad
from tests.ui.harness import Tablet
from tests.ui.laid_out import column, heard

pytestmark = pytest.mark.window


def test_no_chip_is_chosen_before_a_finger_says_so(tablet: Tablet) -> None:
    row = ChipRow(values=["7", "8", "9", "10"], unit="plates")
    tablet.show(column(row, Widget()))

    assert not any(chip.selected for chip in row.children)


def test_a_chip_tells_its_value(tablet: Tablet) -> None:
    told: list[object] = []
    row = ChipRow(values=["7", "8", "9", "10"], on_value=heard(told))
    tablet.show(column(row, Widget()))

    tablet.tap("8")

    assert told == ["8"]
    assert [chip.value for chip in row.children if chip.selected] == ["8"]


def test_the_last_chip_asks_for_another_value(tablet: Tablet) -> None:
    told: list[object] = []
    row = ChipRow(values=["7", "8"], on_other=heard(told), on_value=heard(told))
    tablet.show(column(row, Widget()))

    tablet.tap("other…")

    assert told == [()]


def test_a_row_of_more_than_six_chips_is_a_bug() -> None:
    with pytest.raises(ValueError, match="at most 6"):
        ChipRow(values=list("1234567"))


def pad_on(tablet: Tablet, **facts: Any) -> tuple[NumberPad, list[object]]:
    told: list[object] = []
    pad = NumberPad(on_entered=heard(told), on_leave=lambda _: told.append("left"), **facts)
    tablet.show(pad)
    return pad, told


def touch(tablet: Tablet, keys: str) -> None:
    for key in keys:
        tablet.tap(key)


def test_a_pad_gives_a_number_as_text(tablet: Tablet) -> None:
    _, told = pad_on(tablet, unit="m")

    touch(tablet, "1.35")
    tablet.tap("Done")

    assert told == ["1.35"]
    assert tablet.touches == 5


def test_a_pad_is_empty_again_after_it_was_read(tablet: Tablet) -> None:
    pad, _ = pad_on(tablet, unit="m")

    touch(tablet, "12")
    tablet.tap("Done")

    assert pad.typed == ""


def test_a_pad_has_the_limit_and_the_unit_in_sight(tablet: Tablet) -> None:
    pad_on(tablet, unit="mm", limit="at least 300 mm", question="Mesh lap, row 1 to 2")

    assert {"mm", "at least 300 mm", "Mesh lap, row 1 to 2"} <= set(tablet.texts())


def test_nothing_typed_cant_be_entered(tablet: Tablet) -> None:
    _, told = pad_on(tablet, unit="m")

    tablet.tap("Done")

    assert told == []


def test_what_no_reading_can_be_is_refused_in_words(tablet: Tablet) -> None:
    _, told = pad_on(tablet, unit="mm", decimals=0, largest="2400")

    touch(tablet, "2401")
    tablet.tap("Done")

    assert "Not above 2400 mm." in tablet.texts()
    assert told == []


def test_left_of_the_crown_is_negative(tablet: Tablet) -> None:
    _, told = pad_on(tablet, unit="m", signed=True)

    touch(tablet, "2.8±")
    tablet.tap("Done")

    assert told == ["-2.8"]


def test_erase_takes_one_touch_back(tablet: Tablet) -> None:
    pad, _ = pad_on(tablet, unit="m")

    touch(tablet, "12")
    tablet.tap("Erase")

    assert pad.typed == "1"


def test_a_pad_is_left_without_a_number(tablet: Tablet) -> None:
    _, told = pad_on(tablet, unit="m")

    touch(tablet, "3")
    tablet.tap("Return")

    assert told == ["left"]


def test_a_sign_code_is_shown_as_dots_and_keeps_its_zeros(tablet: Tablet) -> None:
    _, told = pad_on(tablet, mode="code")

    touch(tablet, "0042")
    shown = tablet.texts()
    tablet.tap("Done")

    assert "••••" in shown
    assert not any("42" in text for text in shown)
    assert told == ["0042"]


def test_a_short_sign_code_cant_be_entered(tablet: Tablet) -> None:
    _, told = pad_on(tablet, mode="code")

    touch(tablet, "004")
    tablet.tap("Done")

    assert told == []
