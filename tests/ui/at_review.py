"""At the review of a round: getting there, deciding, and what then stands."""

from fieldapp.ui.widgets.reason_row import ReasonRow
from fieldapp.work.demo import READY
from fieldapp.work.demo.walking import Look
from fieldapp.work.rounds import last_round
from fieldapp.work.signed import standing
from schemas.bodies.round import BoltSeen, Round
from schemas.bodies.sign_off import SignOff
from tests.demo_mine import CODES
from tests.ui.harness import Tablet
from tests.ui.mine import DAY, Hands
from tests.ui.on_a_round import Recorder

A_BOLT_MISSING = Look(marked={3: (BoltSeen(position=6, state="missing"),)})


def review(recorder: Recorder) -> Hands:
    hands = recorder.hands
    if not hands.is_at("review"):
        hands.tap("Review and sign")
    hands.tablet.until(lambda: bool(recorder.screen.judged))
    hands.rest()
    return hands


def sign(hands: Hands, decision: str, code: str = CODES[DAY]) -> None:
    hands.hold(decision)
    hands.type(code)
    hands.rest()


def signed(hands: Hands) -> list[SignOff]:
    known = last_round(hands.site, hands.heading_id(READY))
    assert known is not None
    return [it.body for it in standing(hands.site, [known])]


def recorded(hands: Hands) -> Round:
    known = last_round(hands.site, hands.heading_id(READY))
    assert known is not None
    return known.body


def reasons(tablet: Tablet) -> dict[str, ReasonRow]:
    return {row.title: row for row in tablet.find_all(ReasonRow)}
