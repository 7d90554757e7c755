"""Who is here: names on large keys, the sign code on the app's own pad, and the lock."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from fieldapp.ui.widgets.asking import CodeSheet
from fieldapp.work.notices import notices
from tests.demo_mine import CODES
from tests.ui.harness import LANDSCAPE, PORTRAIT, Tablet
from tests.ui.mine import (
    BOLTER,
    DAY,
    LONG_PERSON,
    Hands,
    at_a_mine,
    at_the_demo,
    long_names,
    nobody_enrolled,
)
from tests.ui.uilint import faults, faults_both_ways, faults_in_any_light

pytestmark = pytest.mark.window

both_ways = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path) -> Iterator[Hands]:
    with at_the_demo(tablet, tmp_path) as hands:
        yield hands


def enter(hands: Hands, name: str, code: str) -> None:
    hands.tap(name)
    hands.type(code)
    hands.rest()


def test_the_app_begins_locked(hands: Hands) -> None:
    assert hands.is_at("sign_in")
    assert hands.shell.session is None
    assert DAY in hands.tablet.texts()


def test_a_locked_tablet_goes_nowhere_else(hands: Hands) -> None:
    hands.shell.open("entry", heading_id=hands.heading_id("4180 Main"))
    hands.rest()

    assert hands.is_at("sign_in")


def test_the_right_code_leads_to_the_board(hands: Hands) -> None:
    enter(hands, DAY, CODES[DAY])

    assert hands.is_at("shift_board")
    assert hands.shell.session is not None
    assert hands.shell.session.name == DAY


def test_a_code_is_never_shown(hands: Hands) -> None:
    hands.shell.demo_codes = ()
    hands.tap(DAY)
    for digit in "1357":
        hands.tablet.tap(digit)
    hands.tablet.settle()

    assert "••••" in hands.tablet.texts()
    assert not [text for text in hands.tablet.texts() if "1357" in text]


def test_a_wrong_code_is_told_in_three_sentences(hands: Hands) -> None:
    enter(hands, DAY, "9999")

    told = hands.tablet.texts()
    assert hands.shell.session is None
    assert len([text for text in told if DAY in text and text.endswith(".")]) >= 1
    hands.tap("Understood")
    assert hands.is_at("sign_in")


def test_after_a_wrong_code_the_pad_is_one_touch_away(hands: Hands) -> None:
    enter(hands, DAY, "9999")
    told = hands.tablet.texts()
    hands.tap("Once more")
    hands.type(CODES[DAY])
    hands.rest()

    assert "Nobody is signed in; every record is on this tablet as it was." in told
    assert not [text for text in told if "draft" in text or "signed;" in text]
    assert hands.shell.session is not None


def test_a_code_is_taken_when_the_key_says_so(hands: Hands) -> None:
    hands.tap(DAY)
    for digit in CODES[DAY]:
        hands.tablet.tap(digit)
    hands.rest()
    before = hands.shell.session, hands.tablet.find_all(CodeSheet)
    hands.tablet.tap("Done")
    hands.rest()

    assert before[0] is None
    assert len(before[1]) == 1
    assert hands.shell.session is not None


def test_after_three_wrong_codes_the_wait_is_told_and_grows(hands: Hands) -> None:
    for wrong in ("9991", "9992", "9993"):
        enter(hands, DAY, wrong)
        hands.tap("Understood")
    enter(hands, DAY, CODES[DAY])
    first = [text for text in hands.tablet.texts() if "next try is in" in text]
    hands.tap("Understood")

    hands.clock.go_on(seconds=6)
    enter(hands, DAY, "9994")
    hands.tap("Understood")
    enter(hands, DAY, CODES[DAY])
    second = [text for text in hands.tablet.texts() if "next try is in" in text]

    # five seconds after three wrong codes, twice as long after each more
    assert first
    assert first[0].endswith("in 5 s.")
    assert second
    assert second[0].endswith("in 10 s.")
    assert hands.shell.session is None


def test_no_entry_from_a_locked_tablet_takes_two_touches_and_nobody(hands: Hands) -> None:
    place = hands.heading_id("4180 Main")

    hands.tap("No entry", "4180 Main")

    stated = notices(hands.site, place)
    assert hands.tablet.touches == 2
    assert [it.body.what for it in stated] == ["no entry"]
    assert stated[0].body.role is None
    assert stated[0].body.reason is None
    assert hands.shell.session is None


def test_who_is_inbye_and_the_barrier_are_answered_without_signing_in(hands: Hands) -> None:
    place = hands.heading_id("4180 Main")

    hands.tap("No entry", "4180 Main", "Nobody is inbye", "Barrier is up", "Return")

    stated = notices(hands.site, place)
    assert [it.body.what for it in stated] == ["barrier up"]
    assert stated[0].body.anyone_inbye is False
    assert hands.is_at("sign_in")


def test_the_tablet_locks_after_ten_idle_minutes(hands: Hands) -> None:
    hands.sign_in()
    hands.clock.go_on(minutes=9, seconds=59)
    hands.shell.lock_when_idle()
    before = hands.shell.session

    hands.clock.go_on(seconds=1)
    hands.tablet.until(lambda: hands.shell.session is None, seconds=12)

    assert before is not None
    assert hands.is_at("sign_in")


def test_a_touch_after_ten_idle_minutes_locks_and_does_nothing_else(hands: Hands) -> None:
    hands.sign_in()
    hands.clock.go_on(minutes=30)

    hands.tablet.tap("No entry")
    hands.rest()

    assert hands.shell.session is None
    assert hands.is_at("sign_in")
    assert "No entry: where?" not in hands.tablet.texts()


def test_each_touch_begins_the_ten_minutes_anew(hands: Hands) -> None:
    hands.sign_in()
    for _ in range(3):
        hands.clock.go_on(minutes=9)
        hands.tablet.tap("4180 Main" if hands.is_at("shift_board") else "Board")
        hands.rest()

    assert hands.shell.session is not None


def test_a_clock_that_went_backwards_locks(hands: Hands) -> None:
    hands.sign_in()

    hands.clock.go_on(minutes=-1)
    hands.shell.lock_when_idle()

    assert hands.shell.session is None


def test_the_lock_takes_away_what_lay_over_the_screen(hands: Hands) -> None:
    hands.sign_in()
    hands.tap("Report", "4180 Main", "Fired")

    hands.shell.lock()
    hands.rest()

    assert "Fired in 4180 Main: how far did it advance?" not in hands.tablet.texts()
    assert DAY in hands.tablet.texts()


def test_whoever_locked_the_tablet_comes_back_to_the_same_place(hands: Hands) -> None:
    hands.sign_in()
    hands.tap("4180 Main")
    hands.shell.lock()
    hands.rest()

    hands.sign_in(DAY)

    assert hands.is_at("entry")
    assert "4180 Main" in hands.tablet.texts()


def test_somebody_else_begins_at_the_board(hands: Hands) -> None:
    hands.sign_in()
    hands.tap("4180 Main")
    hands.shell.lock()
    hands.rest()

    hands.sign_in(BOLTER)

    assert hands.is_at("shift_board")


def test_the_demo_mine_shows_its_codes_and_says_that_it_is_invented(hands: Hands) -> None:
    told = " ".join(hands.tablet.texts())

    assert all(f"{name} {code}" in told for name, code in CODES.items() if name != "site")
    assert "DEMO · Wrenfall" in told


def test_a_mine_without_people_says_what_to_do(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_mine(tablet, tmp_path, nobody_enrolled):
        told = " ".join(tablet.texts())
        found = faults(tablet)

    assert "lastrow person add" in told
    assert found == []


@both_ways
def test_a_tablet_without_a_mine_says_what_to_do(
    tablet: Tablet, tmp_path: Path, size: tuple[int, int]
) -> None:
    with at_a_mine(tablet, tmp_path) as hands:
        tablet.turn(size)
        hands.rest()
        told = " ".join(tablet.texts())
        found = faults(tablet)

    assert "lastrow mine start" in told
    assert found == []


def test_long_names_have_room_on_the_keys(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_mine(tablet, tmp_path, long_names) as hands:
        hands.rest()
        found = faults_both_ways(tablet)

    assert len(LONG_PERSON) > 50
    assert found == []


def test_the_screen_has_no_fault(hands: Hands) -> None:
    assert faults_in_any_light(hands.tablet) == []


def test_the_pad_for_the_code_has_no_fault(hands: Hands) -> None:
    hands.tap(DAY)

    assert faults_both_ways(hands.tablet) == []
