"""The Shift board under a glove: where people may go, what waits, and one touch to get there."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from fieldapp.ui.names import short
from fieldapp.ui.widgets.heading_row import HeadingRow
from fieldapp.work.events import events
from fieldapp.work.rounds import begin_round, last_round, look_again, open_round, open_rounds
from fieldapp.work.sign import Signing, sign_round
from fieldapp.work.writing import stated_now
from schemas.entry import corrected
from tests.demo_mine import CODES, session
from tests.ui.harness import Tablet
from tests.ui.mine import DAY, LONG_NAMES, Hands, at_a_mine, at_the_demo, long_names, no_headings
from tests.ui.uilint import faults, faults_both_ways, faults_in_any_light

pytestmark = pytest.mark.window


@pytest.fixture
def hands(tablet: Tablet, tmp_path: Path) -> Iterator[Hands]:
    with at_the_demo(tablet, tmp_path) as hands:
        hands.signed_in()
        yield hands


def row(hands: Hands, name: str) -> HeadingRow:
    while not (found := [it for it in hands.tablet.find_all(HeadingRow) if it.heading == name]):
        hands.tap("Down")
    return found[0]


def words(hands: Hands, name: str) -> list[str]:
    return hands.tablet.texts(row(hands, name))


def touch_round(hands: Hands, name: str) -> None:
    """Touch the right-hand card of a heading's row."""
    hands.tablet.tap(row(hands, name).ids.round_card)
    hands.rest()


def test_a_heading_shows_how_far_and_what_holds_beyond(hands: Hands) -> None:
    decline = words(hands, "Wrenfall Decline")
    main = words(hands, "4180 Main")

    assert "to 1\N{NO-BREAK SPACE}385.8 m" in decline
    assert "barricaded" in decline
    assert {"to 611.2 m", "nobody beyond"} <= set(main)
    assert "Entry; nobody beyond" in hands.tablet.texts()


def test_a_metre_without_accepted_support_is_never_under_a_green_tick(hands: Hands) -> None:
    verdicts = {}
    for name in ("4180 Main", "4155 Main", "4180 Ore Drive N", "Wrenfall Decline"):
        verdicts[name] = row(hands, name).verdict

    assert verdicts == {
        "4180 Main": "",
        "4155 Main": "not looked at",
        "4180 Ore Drive N": "rework",
        "Wrenfall Decline": "no entry",
    }


def test_one_touch_goes_on_with_the_round_that_is_open(hands: Hands) -> None:
    place = hands.heading_id("4155 Ore Drive S")
    before = open_round(hands.site, place)

    hands.tap("Go on")

    after = open_round(hands.site, place)
    assert hands.tablet.touches == 1
    assert hands.is_at("round")
    assert before is not None
    assert after is not None
    assert before.work.round_id == after.work.round_id


def test_one_touch_begins_the_round_that_was_fired(hands: Hands) -> None:
    place = hands.heading_id("4155 Main")

    touch_round(hands, "4155 Main")

    begun = open_round(hands.site, place)
    assert hands.tablet.touches == 1
    assert hands.is_at("round")
    assert begun is not None
    assert begun.work.began.number == 65


def test_one_touch_looks_again_at_a_round_that_was_sent_back(hands: Hands) -> None:
    place = hands.heading_id("4180 Ore Drive N")
    sent_back = last_round(hands.site, place)

    touch_round(hands, "4180 Ore Drive N")

    again = open_round(hands.site, place)
    assert hands.tablet.touches == 1
    assert hands.is_at("round")
    assert sent_back is not None
    assert again is not None
    assert again.work.round_id == sent_back.id
    assert again.work.parents == (sent_back.entry.revision,)


def test_what_two_people_stated_differently_leads_to_both_sides_first(hands: Hands) -> None:
    place = hands.heading_id("4180 Main")
    known = last_round(hands.site, place)
    assert known is not None
    by = session(hands.site, DAY)
    work = look_again(hands.site, known.id, by)
    other = corrected(known.entry, {"notes": ["loose"]}, stated_now(hands.site, by.person_id))
    hands.site.store.ledger.add([other])
    sign_round(hands.site, by, Signing(work, "sent back", hands.clock()), CODES[DAY])
    hands.go("shift_board")

    touch_round(hands, "4180 Main")

    hands.sees("4180 Main: stated differently by two people")
    assert open_round(hands.site, place) is None, "nobody states a third by one touch"
    assert faults_both_ways(hands.tablet) == []
    hands.tap("Both sides")
    assert hands.is_at("share_folder")


def test_nothing_is_begun_where_nothing_waits_until_somebody_says_so(hands: Hands) -> None:
    drafts = len(open_rounds(hands.site))

    touch_round(hands, "4180 Main")

    assert "Nothing waits in 4180 Main" in hands.tablet.texts()
    assert len(open_rounds(hands.site)) == drafts
    assert hands.is_at("shift_board")


def test_the_entry_card_leads_to_the_headings_entry(hands: Hands) -> None:
    hands.tap("Wrenfall Decline")

    assert hands.is_at("entry")
    assert "Inbye: from there to the face at 1\N{NO-BREAK SPACE}390.2 m" in hands.tablet.texts()


def test_a_firing_is_reported_by_pad_and_withdraws_entry_at_once(hands: Hands) -> None:
    place = hands.heading_id("4180 Main")
    before = len(events(hands.site, place))

    hands.tap("Report", "4180 Main", "Fired")
    hands.type("3.2", done="Fired")
    hands.rest()

    reported = events(hands.site, place)
    assert len(reported) == before + 1
    assert str(reported[-1].body.fired_m) == "3.2"
    assert hands.is_at("entry")
    assert "no entry, barrier not yet up" in hands.tablet.texts()


def test_no_entry_takes_two_touches(hands: Hands) -> None:
    hands.tap("No entry", "4180 Main")

    assert hands.tablet.touches == 2
    assert [text for text in hands.tablet.texts() if text.startswith("No entry stands")]


def test_a_round_comes_back_after_the_tablet_was_switched_off(hands: Hands) -> None:
    place = hands.heading_id("4155 Main")
    work = begin_round(hands.site, place, session(hands.site, DAY))

    hands.switch_off_and_on()
    hands.sign_in()
    touch_round(hands, "4155 Main")

    known = open_round(hands.site, place)
    assert hands.is_at("round")
    assert known is not None
    assert known.work.round_id == work.round_id


def test_the_board_follows_the_clock_by_itself(hands: Hands) -> None:
    hands.go("entry", heading_id=hands.heading_id("4180 Main"))
    hands.tap("Restrict", "inspection only", "1 h", "The whole heading")
    hands.shell.to_board()
    hands.rest()
    restricted = words(hands, "4180 Main")

    for _ in range(8):  # ten idle minutes would lock
        hands.clock.go_on(minutes=8)
        hands.shell.touched()
    hands.tablet.until(lambda: "barricaded" in words(hands, "4180 Main"), seconds=12)

    assert {"until 10:30 UTC", "restricted to inspection only"} <= set(restricted)


def test_headings_are_reached_by_pages(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_mine(tablet, tmp_path, long_names) as hands:
        hands.signed_in()
        seen = {it.heading for it in tablet.find_all(HeadingRow)}
        while not tablet.find("Down").disabled:
            hands.tap("Down")
            seen |= {it.heading for it in tablet.find_all(HeadingRow)}

    assert seen == {short(name) for name in LONG_NAMES}


def test_a_mine_without_headings_says_what_to_do(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_mine(tablet, tmp_path, no_headings) as hands:
        hands.signed_in()

        told = tablet.texts()
        found = faults(tablet)

    assert "No heading is entered yet: the records keeper adds them." in told
    assert found == []


def test_the_board_has_no_fault(hands: Hands) -> None:
    assert faults_in_any_light(hands.tablet) == []


def test_long_names_have_room_on_the_board(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_mine(tablet, tmp_path, long_names) as hands:
        hands.signed_in()

        assert faults_both_ways(tablet) == []


@pytest.mark.parametrize(
    "path",
    [("Report",), ("Report", "4180 Main"), ("Report", "4180 Main", "Seismic"), ("No entry",)],
    ids=" then ".join,
)
def test_what_lies_over_the_board_has_no_fault(hands: Hands, path: tuple[str, ...]) -> None:
    hands.tap(*path)

    assert faults_both_ways(hands.tablet) == []
