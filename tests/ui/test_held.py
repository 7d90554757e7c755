"""What holds entry whatever is signed stands on Round and Review, and no key promises it away."""

from datetime import timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from fieldapp.report.words.findings import NO_BREAK
from fieldapp.work.demo import READY
from fieldapp.work.demo.story import ORE_N
from fieldapp.work.deviations import grant
from fieldapp.work.entry import entry
from fieldapp.work.events import report_event
from fieldapp.work.notices import say_no_entry
from fieldapp.work.round import RoundWork
from fieldapp.work.sign import Signing, sign_round
from tests.demo_mine import CODES, session
from tests.deviations import WIDE_SPACING, strap
from tests.ui.harness import LANDSCAPE, PORTRAIT, Tablet
from tests.ui.mine import DAY, ENGINEER, Hands, at_the_demo
from tests.ui.on_a_round import Recorder, at_a_round
from tests.ui.test_shift_board import row, touch_round
from tests.ui.uilint import faults

pytestmark = pytest.mark.window

both_ways = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])

HELD = "Holds entry, signed or not: seismic at 303.2 m: until 21:30 UTC and an inspection"


def a_tremor(hands: Hands) -> None:
    report_event(hands.site, hands.heading_id(READY), "seismic", Decimal("303.18"), None)
    hands.shell.refresh()
    hands.rest()


@both_ways
def test_an_open_event_stands_in_a_fixed_line_while_a_round_is_answered(
    tablet: Tablet, tmp_path: Path, size: tuple[int, int]
) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        tablet.turn(size)
        before = recorder.screen.held
        a_tremor(recorder.hands)
        on_round, faults_of_round = tablet.texts(), faults(tablet)
        recorder.hands.tap("Review and sign")
        on_review, faults_of_review = tablet.texts(), faults(tablet)

    assert before == ""
    assert any(text.startswith(HELD.partition(" and")[0]) for text in on_round)
    assert any(text.startswith(HELD.partition(" and")[0]) for text in on_review)
    assert (faults_of_round, faults_of_review) == ([], [])


def test_nobody_accepts_under_an_open_event_and_sending_back_promises_what_it_leaves(
    tablet: Tablet, tmp_path: Path
) -> None:
    with at_a_round(tablet, tmp_path, "") as recorder:
        hands = recorder.hands
        a_tremor(hands)
        hands.tap("Review and sign")
        accept, promised = recorder.screen.accept_second, recorder.screen.send_back_second
        hands.hold("Send back")
        hands.type(CODES[DAY])
        hands.rest()
        state = entry(hands.site, hands.heading_id(READY), hands.clock.at)

    # the demo's standard: 80 m around a tremor, here at 303.18 m
    assert accept == "After an event: not looked at"
    assert promised == f"hold · entry to 223.1{NO_BREAK}m"
    assert state.line_m == Decimal("223.18")


def test_several_things_are_counted(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        hands = recorder.hands
        say_no_entry(hands.site, hands.heading_id(READY), Decimal(300), None, reason="loose rock")
        a_tremor(hands)

    assert recorder.screen.held.endswith("; and 1 more, see Entry")


@both_ways
def test_a_round_and_its_review_count_what_nobody_looked_at_alike(
    tablet: Tablet, tmp_path: Path, size: tuple[int, int]
) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        tablet.turn(size)
        hands = recorder.hands
        on_round = recorder.screen.review_second.replace("\N{NO-BREAK SPACE}", " ")
        hands.tap("Review and sign")
        review = recorder.screen

    count = int(on_round.removesuffix(" not looked at"))
    assert review.headline == f"{count} not looked at"
    assert review.unseen_title == f"Not looked at, {count}"
    assert review.fix_title == "Nothing to fix in what was looked at"


def test_a_round_looked_at_again_says_what_to_do(tablet: Tablet, tmp_path: Path) -> None:
    with at_the_demo(tablet, tmp_path) as hands:
        hands.signed_in(DAY)
        touch_round(hands, ORE_N)
        recorder = Recorder(hands)
        recorder.rest()
        told = tablet.texts(recorder.panel)
        found = faults(tablet)

    assert "Looked at before: what has been put right?" in told
    assert "Touch its finding or its bolt and answer anew. Then review and sign." in told
    assert "Everything was asked." not in told
    assert found == []


def under_a_deviation(hands: Hands, work: RoundWork) -> None:
    """Have a round accepted over a spacing that the engineer grants until tomorrow morning."""
    engineer = session(hands.site, ENGINEER)
    granted = strap(work.round_id, hands.clock() + timedelta(hours=20))
    grant(hands.site, granted, engineer, CODES[ENGINEER])
    signing = Signing(work, "accepted", hands.clock())
    sign_round(hands.site, session(hands.site, DAY), signing, CODES[DAY])
    hands.shell.to_board()
    hands.rest()


@both_ways
def test_the_board_names_a_deviation_with_its_end(
    tablet: Tablet, tmp_path: Path, size: tuple[int, int]
) -> None:
    """Also once the tablet was turned to and fro."""
    with at_a_round(tablet, tmp_path, "", WIDE_SPACING) as one:
        under_a_deviation(one.hands, one.on_disk())
        told = []
        for way in (size, PORTRAIT if size == LANDSCAPE else LANDSCAPE, size):
            tablet.turn(way)
            told.append(tablet.texts(row(one.hands, READY)))
        found = faults(tablet)

    assert all(any("deviation until 7 May 2031 05:3" in it for it in words) for words in told)
    assert found == []
