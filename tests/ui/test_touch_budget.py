"""How many touches a conforming round of 45 bolts asks for, from the Shift board to signed."""

import sys
from pathlib import Path

import pytest

from fieldapp.ui.signed_sheet import SignedSheet
from fieldapp.ui.widgets.heading_row import HeadingRow
from fieldapp.work.demo import READY
from fieldapp.work.rounds import last_round
from fieldapp.work.signed import standing
from tests.demo_mine import CODES
from tests.ui.harness import Tablet
from tests.ui.mine import DAY, at_the_demo
from tests.ui.on_a_round import Recorder

pytestmark = pytest.mark.window

MOST_TOUCHES = 45
MOST_WITHOUT_DIGITS = 30


def test_a_conforming_round_is_signed_within_the_touches(
    tablet: Tablet, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with at_the_demo(tablet, tmp_path) as hands:
        hands.sign_in(DAY)
        recorder = Recorder(hands)
        assert hands.is_at("shift_board")

        row = next(it for it in tablet.find_all(HeadingRow) if it.heading == READY)
        tablet.tap(row.ids.round_card)
        recorder.rest()
        recorder.answer_until()
        tablet.until(lambda: hands.is_at("review"))
        hands.rest()
        hands.hold("Accept")
        for digit in CODES[DAY]:
            tablet.tap(digit)
        tablet.until(lambda: bool(tablet.find_all(SignedSheet)))

        digits = recorder.readings + len(CODES[DAY])
        with capsys.disabled():
            words = f"{tablet.touches} touches, {tablet.touches - digits} without digits"
            sys.stdout.write(f"\n{words}\n")
        known = last_round(hands.site, hands.heading_id(READY))
        assert known is not None
        assert sum(row.counted.plates for row in known.body.rows if row.counted) == 45
        assert [it.body.decision for it in standing(hands.site, [known])] == ["accepted"]
        assert tablet.touches <= MOST_TOUCHES
        assert tablet.touches - digits <= MOST_WITHOUT_DIGITS
