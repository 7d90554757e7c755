"""Review and sign on a real window: the reasons, the decision, and what follows from it."""

from datetime import timedelta
from pathlib import Path

import pytest

from fieldapp.assess.readings import last_row_m
from fieldapp.report.words.findings import NO_BREAK
from fieldapp.ui.signed_sheet import SignedSheet
from fieldapp.work.demo import READY, SITE_CODE
from fieldapp.work.demo.walking import Look
from fieldapp.work.entry import entry
from fieldapp.work.headings import heading
from fieldapp.work.people import enrol
from fieldapp.work.rounds import open_round
from fieldapp.work.waiting import waiting
from schemas.bodies.person import Role
from schemas.bodies.round import BoltSeen
from tests.demo_mine import CODES
from tests.ui.at_review import A_BOLT_MISSING, reasons, recorded, review, sign, signed
from tests.ui.harness import LANDSCAPE, PORTRAIT, Tablet
from tests.ui.mine import DAY
from tests.ui.on_a_round import at_a_round
from tests.ui.uilint import faults_both_ways

pytestmark = pytest.mark.window


MUCH_TO_DO = Look(
    marked={
        2: (BoltSeen(position=4, state="missing"), BoltSeen(position=5, state="missing")),
        4: (
            BoltSeen(position=2, state="present", plate="loose"),
            BoltSeen(position=7, state="present", plate="loose"),
        ),
    }
)
both_ways = pytest.mark.parametrize("size", [LANDSCAPE, PORTRAIT], ids=["landscape", "portrait"])


# --- what it shows ------------------------------------------------------------------------------


def test_the_reason_stands_with_the_verdict(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "", A_BOLT_MISSING) as recorder:
        review(recorder)
        gap = reasons(tablet)["Largest gap"]

        assert gap.measured.startswith("1.8")
        assert gap.limit == "at most 1.73"
        assert gap.clause == "S-2, 5.4"
        assert gap.where[0] == "gap beside row 3, 0.9 m right of the crown"


def test_however_much_is_to_do_nothing_is_pushed_off_the_screen(
    tablet: Tablet, tmp_path: Path
) -> None:
    with at_a_round(tablet, tmp_path, "", MUCH_TO_DO) as recorder:
        review(recorder)

        assert recorder.screen.fix_title == "To do, 5"
        assert any(text.endswith("more, in the handover") for text in tablet.texts())
        assert not faults_both_ways(tablet)


def test_what_nobody_looked_at_is_named(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "last row marked") as recorder:
        review(recorder)

        assert recorder.screen.unseen_title == "Not looked at, 5"
        assert recorder.screen.unseen_words == (
            "Largest gap, Load in the back, Load on the walls, Last row to face, Last row marked"
        )


def test_each_decision_says_how_far_people_may_go(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "") as recorder:
        review(recorder)
        screen = recorder.screen

        assert screen.accept_second == f"hold · entry to 307.7{NO_BREAK}m"
        assert (
            screen.send_back_second
            == screen.barricade_second
            == f"hold · entry to 303.1{NO_BREAK}m"
        )


def test_a_touched_finding_leads_to_the_map(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "", A_BOLT_MISSING) as recorder:
        review(recorder)
        tablet.tap(reasons(tablet)["Bolts present"])
        tablet.until(lambda: recorder.on_round)
        tablet.until(lambda: recorder.screen.ids.map.selected is not None)

        assert recorder.question.key == "count 3"


# --- the decision -------------------------------------------------------------------------------


def test_a_conforming_round_is_accepted_and_moves_the_entry_line(
    tablet: Tablet, tmp_path: Path
) -> None:
    with at_a_round(tablet, tmp_path, "") as recorder:
        hands = review(recorder)
        sign(hands, "Accept")
        sheet = tablet.find(SignedSheet)
        tablet.until(lambda: bool(sheet.radio))
        tablet.settle()
        told = tablet.texts(sheet)
        path = Path(sheet.path.removeprefix("Round sheet: ").replace("\n", ""))
        hands.tap("Shift board")
        state = entry(hands.site, hands.heading_id(READY), hands.clock.at)

        assert {"Accepted and signed", "Entry to 307.7 m, nobody beyond"} <= set(told)
        assert "Entry to 307.7 metres, nobody beyond." in told
        assert path.read_bytes().startswith(b"%PDF")
        assert [it.decision for it in signed(hands)] == ["accepted"]
        assert (state.line_m, state.state) == (last_row_m(recorded(hands)), "entry allowed")
        assert open_round(hands.site, hands.heading_id(READY)) is None
        assert hands.is_at("shift_board")


def test_a_round_not_wholly_looked_at_is_never_accepted(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path, "last row marked") as recorder:
        hands = review(recorder)
        accept = tablet.find("Accept")
        hands.hold("Accept")

        assert accept.disabled
        assert not tablet.find_all("Accepted: your sign code")
        assert recorder.screen.accept_second == "Largest gap: not looked at"


@pytest.mark.parametrize(
    ("key", "decision"), [("Send back", "sent back"), ("Barricade", "barricaded")]
)
def test_it_can_always_be_sent_back_or_barricaded(
    tablet: Tablet, tmp_path: Path, key: str, decision: str
) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        recorder.answer()
        hands = review(recorder)
        sign(hands, key)

        assert tablet.find(SignedSheet)
        assert [it.decision for it in signed(hands)] == [decision]


def test_a_short_touch_signs_nothing(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        hands = review(recorder)
        tablet.tap("Send back")
        hands.rest()

        assert not tablet.find_all("Sent back: your sign code")


def test_wrong_codes_are_told_and_wait_longer_each_time(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        recorder.answer()
        hands = review(recorder)
        sign(hands, "Send back", "9999")
        wrong = tablet.texts(tablet.window.children[0])
        for _ in range(5):
            hands.tap("Understood")
            sign(hands, "Send back", "9999")
        waiting = " ".join(tablet.texts(tablet.window.children[0]))
        hands.tap("Understood")
        hands.clock.go_on(minutes=9)
        sign(hands, "Send back")

        assert "This is not the sign code of Day supervisor." in wrong
        assert "wait" in waiting.lower()
        assert [it.decision for it in signed(hands)] == ["sent back"]


@pytest.mark.parametrize("code", ["246813579012", "2468"])
def test_a_code_of_any_length_signs_when_the_key_says_so(
    tablet: Tablet, tmp_path: Path, code: str
) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        hands = recorder.hands
        relief: tuple[Role, ...] = ("shift supervisor",)
        enrol(hands.site, "Relief supervisor", relief, sign_code=code, site_code=SITE_CODE)
        hands.shell.lock()
        hands.signed_in("Relief supervisor")
        hands.go("review", heading_id=hands.heading_id(READY))
        hands.hold("Send back")
        for digit in code:
            tablet.tap(digit)
        hands.rest()
        before = recorded(hands).number
        tablet.tap("Done")
        hands.rest()

        assert before == 64
        assert [it.decision for it in signed(hands)] == ["sent back"]


def test_the_last_digit_of_the_code_one_came_in_with_signs_and_a_finger_after_it_does_nothing(
    tablet: Tablet, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("fieldapp.ui.widgets.asking.AFTER_A_CODE_S", 5.0)
    with at_a_round(tablet, tmp_path) as recorder:
        hands = recorder.hands
        hands.shell.lock()
        hands.sign_in()
        hands.go("review", heading_id=hands.heading_id(READY))
        hands.hold("Send back")
        done = tablet.place_of("Done")
        for digit in CODES[DAY]:
            tablet.tap(digit)
        tablet.until(lambda: bool(tablet.find_all(SignedSheet)))
        tablet.press_at_once(done)
        tablet.let_go()
        tablet.press_at_once("Shift board")
        tablet.let_go()
        hands.rest()
        still_open = tablet.find_all(SignedSheet)
        tablet.until(lambda: not tablet.bounce.is_on)

        assert [it.decision for it in signed(hands)] == ["sent back"]
        assert still_open


def test_after_a_wrong_code_the_pad_is_one_touch_away(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        recorder.answer()
        hands = review(recorder)
        sign(hands, "Send back", "9999")
        hands.clock.go_on(minutes=9)
        hands.tap("Once more")
        hands.type(CODES[DAY])
        hands.rest()

        assert tablet.find(SignedSheet)


def test_a_clock_that_is_behind_has_to_be_confirmed(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        recorder.answer()
        hands = review(recorder)
        hands.clock.at -= timedelta(hours=5)
        hands.shell.touched()
        sign(hands, "Send back")
        told = " ".join(tablet.texts(tablet.window.children[0]))
        before = recorded(hands).number
        hands.tap("Confirm")
        hands.rest()

        assert "This tablet's clock says" in told
        assert before == 64
        assert [it.decision for it in signed(hands)] == ["sent back"]


def test_the_review_of_a_signed_round_begins_no_other(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        recorder.answer()
        hands = review(recorder)
        sign(hands, "Send back")
        tablet.find(SignedSheet).close()
        hands.shell.open("review", heading_id=hands.heading_id(READY))
        hands.rest()

        assert hands.is_at("shift_board")
        assert open_round(hands.site, hands.heading_id(READY)) is None


def test_no_entry_is_one_touch_from_the_signed_sheet(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        recorder.answer()
        hands = review(recorder)
        sign(hands, "Send back")
        tablet.tap(tablet.find("No entry", tablet.find(SignedSheet)))
        hands.rest()

        assert any("no entry" in text.lower() for text in tablet.texts(tablet.window.children[0]))


def test_a_barricade_leads_to_whether_the_barrier_is_up(tablet: Tablet, tmp_path: Path) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        recorder.answer()
        hands = review(recorder)
        sign(hands, "Barricade")
        hands.tap("Entry")
        state = entry(hands.site, hands.heading_id(READY), hands.clock.at)

        assert hands.is_at("entry")
        assert state.state == "no entry, barrier not yet up"


def test_a_sent_back_round_waits_on_the_board_to_be_looked_at_again(
    tablet: Tablet, tmp_path: Path
) -> None:
    with at_a_round(tablet, tmp_path) as recorder:
        recorder.answer()
        hands = review(recorder)
        sign(hands, "Send back")
        waits = waiting(hands.site, heading(hands.site, READY), None)

        assert (waits.what, waits.number) == ("look again", 65)
