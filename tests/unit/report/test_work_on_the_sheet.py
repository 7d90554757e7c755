"""The work of a round on its sheet: what was stated and no more."""

from datetime import UTC, datetime

from fieldapp.report.round_sheet.whole import round_sheet
from schemas.bodies.work_seen import BoltsUsed, Delay, Used, WorkSeen
from tests.unit.assess.conforming import conforming, with_round
from tests.unit.report.examples import judged_sheet
from tests.unit.report.pages import flat, words_of

BEGUN = datetime(2031, 5, 6, 2, 15, tzinfo=UTC)
"""Of the round sheet's own shift."""


def printed(work: WorkSeen | None) -> str:
    return flat(words_of(round_sheet(judged_sheet(with_round(conforming(), work=work)))))


def test_what_was_stated_is_printed_with_its_difference_from_the_take_off() -> None:
    used = Used(bolts=(BoltsUsed(bolt_type="RB24", bolts=40),), mesh_pieces=10)
    delays = (Delay(minutes=20, cause="machine broke down"),)
    said = printed(
        WorkSeen(
            started_at=BEGUN, method="mechanised", crew_size=3, delays=delays, used=used,
            beyond_last_row=True, beyond_reason="to bar down",
        )
    )  # fmt: skip

    assert flat("Somebody went there: to bar down.") in said
    assert flat("mechanised; 3 people; held up 20 min, machine broke down") in said
    assert flat("Bolts RB24 40 (") in said
    assert flat("Sheets of mesh 10 (") in said


def test_nothing_is_printed_of_work_that_nobody_stated() -> None:
    assert flat("Somebody went there") not in printed(None)
    assert flat("mechanised") not in printed(WorkSeen(beyond_last_row=False))
