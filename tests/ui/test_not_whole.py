"""Somebody got at the records: the board says so in a line that stays, and lets nobody in."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from fieldapp.store.opening import DATABASE
from fieldapp.ui.widgets.heading_row import HeadingRow
from tests.ui.harness import Tablet
from tests.ui.mine import Hands, at_the_demo
from tests.ui.uilint import faults_both_ways, faults_in_any_light

pytestmark = pytest.mark.window

LINE = "Records are missing or were altered"
NOTICES_GONE = "DELETE FROM entry WHERE kind = 'entry_notice'"
NO_SEGMENTS = "DELETE FROM segment"
REMEMBERED_WRONGLY = "UPDATE gathered SET content = x'7b7d'"
NO_TEXT = "UPDATE entry SET made_at = CAST(x'ff' AS TEXT) WHERE kind = 'entry_notice'"
PEOPLE_ALTERED = "UPDATE entry SET line = x'7b7d' WHERE kind = 'person'"


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path) -> Iterator[Hands]:
    with at_the_demo(tablet, tmp_path) as hands:
        hands.signed_in()
        yield hands


def edited_while_off(hands: Hands, *statements: str) -> None:
    hands.close()
    with closing(sqlite3.connect(hands.home / DATABASE)) as database:
        for statement in statements:
            database.execute(statement)
        database.commit()
    hands.open()


HELD_BY_NOTHING = ""
"""No mark: entry is allowed to the last row; a tick stands for all ground to the face."""


def verdicts(hands: Hands) -> set[str]:
    return {row.verdict for row in hands.tablet.find_all(HeadingRow)}


def test_while_all_is_there_the_board_has_no_such_line(hands: Hands) -> None:
    assert LINE not in hands.tablet.texts()
    assert HELD_BY_NOTHING in verdicts(hands)


def test_what_is_missing_is_told_and_put_back_by_touching_it(hands: Hands) -> None:
    edited_while_off(hands, NOTICES_GONE)
    hands.sign_in()
    assert HELD_BY_NOTHING not in verdicts(hands)

    hands.tap(LINE)
    told = " ".join(hands.tablet.texts())
    assert "entries are missing or altered (14)" in told
    assert "Ask in the heading before anybody goes in" in told

    hands.tap("Put back")
    assert LINE not in hands.tablet.texts()
    assert HELD_BY_NOTHING in verdicts(hands)


def test_what_can_not_be_put_back_stays_told(hands: Hands) -> None:
    edited_while_off(hands, NOTICES_GONE, NO_SEGMENTS)
    hands.sign_in()

    hands.tap(LINE)
    assert "Put back" not in hands.tablet.texts()
    hands.tap("Understood")

    assert LINE in hands.tablet.texts()
    assert HELD_BY_NOTHING not in verdicts(hands)


def test_what_was_remembered_wrongly_is_told_beside_the_truth(hands: Hands) -> None:
    edited_while_off(hands, REMEMBERED_WRONGLY)
    hands.sign_in()
    assert HELD_BY_NOTHING in verdicts(hands)

    hands.tap(LINE)

    assert any(it.startswith("What was remembered of") for it in hands.tablet.texts())


def test_where_nothing_can_be_read_no_heading_is_shown_and_it_is_told(hands: Hands) -> None:
    edited_while_off(hands, NO_TEXT)
    hands.sign_in()

    assert LINE in hands.tablet.texts()
    assert verdicts(hands) == set()


def test_where_nobody_is_known_any_more_the_first_screen_says_why(hands: Hands) -> None:
    edited_while_off(hands, PEOPLE_ALTERED)

    told = " ".join(hands.tablet.texts())
    assert "These records are not whole: entries are missing or altered (6)." in told
    assert "lastrow selfcheck --put-back" in told


@pytest.mark.parametrize("what", [NOTICES_GONE, NO_SEGMENTS, REMEMBERED_WRONGLY])
def test_the_line_and_what_it_tells_have_room(hands: Hands, what: str) -> None:
    edited_while_off(hands, what)
    hands.sign_in()
    assert faults_in_any_light(hands.tablet) == []

    hands.tap(LINE)

    assert faults_in_any_light(hands.tablet) == []


def test_why_nobody_is_known_has_room(hands: Hands) -> None:
    edited_while_off(hands, PEOPLE_ALTERED)
    hands.rest()

    assert faults_both_ways(hands.tablet) == []
