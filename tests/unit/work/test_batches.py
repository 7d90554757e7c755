"""A bad batch: every round that used it is in doubt, and an engineer decides."""

from datetime import timedelta

import pytest

from fieldapp.work.batches import (
    NoReasonSaid,
    NoSuchBatch,
    NotInDoubt,
    add_batch,
    batches,
    decide_batch,
    doubt_batch,
    in_doubt,
)
from fieldapp.work.demo.story import MAIN, ORE_N
from fieldapp.work.known import Known, current
from fieldapp.work.roles import NotYours
from fieldapp.work.withdrawals import NotYoursToWithdraw, withdraw
from fieldapp.work.writing import state
from schemas.bodies.batch import Batch
from tests.unit.work.conftest import Shift

BAD = "RB24-0731"
ENGINEER = "Geotechnical engineer"


def doubt(shift: Shift, who: str = "Day supervisor") -> Known[Batch]:
    return doubt_batch(shift.site, BAD, shift.who(who), reason="sets too slowly")


def said(shift: Shift, name: str = MAIN) -> list[tuple[str, str]]:
    """Give what a heading says of batches in doubt: which rounds, and who decides."""
    return [(it.title, it.waits) for it in shift.entry(name).doubts]


def restate(shift: Shift, known: Known[Batch], who: str | None, **changes: object) -> None:
    """State a batch anew past every rule, as another program could."""
    state(
        shift.site,
        "batch",
        known.body.model_copy(update=changes),
        author=shift.who(who).person_id if who else None,
        thing_id=known.id,
        parents=(known.entry.revision,),
    )


def test_anyone_puts_a_batch_in_doubt_and_the_engineer_has_a_day(shift: Shift) -> None:
    doubted = doubt(shift, "Bolter, crew A")

    assert doubted.body.decide_by == shift.clock() + timedelta(hours=24)
    assert said(shift) == [
        ("batch RB24-0731 in doubt, round 87", "an engineer decides until 7 May 2031 09:30 UTC")
    ]
    assert said(shift, ORE_N) == []


@pytest.mark.parametrize("reason", ["", "  "])
def test_a_doubt_or_decision_says_why_and_an_empty_one_replaces_none(
    shift: Shift, reason: str
) -> None:
    doubt(shift)

    with pytest.raises(NoReasonSaid):
        doubt_batch(shift.site, BAD, shift.who(), reason=reason)
    with pytest.raises(NoReasonSaid):
        decide_batch(shift.site, BAD, shift.who(ENGINEER), decision="cleared", reason=reason)

    assert [it.reason for it in batches(shift.site) if it.in_doubt] == ["sets too slowly"]


def test_a_decision_that_did_not_come_is_overdue_and_the_doubt_stays(shift: Shift) -> None:
    doubt(shift)
    shift.wait(hours=24)

    assert [waits for _, waits in said(shift)] == [
        "an engineer's decision is overdue since 7 May 2031 09:30 UTC"
    ]


def test_an_engineer_clears_it(shift: Shift) -> None:
    before = shift.entry(MAIN)
    doubt(shift)
    decided = decide_batch(
        shift.site, BAD, shift.who(ENGINEER), decision="cleared", reason="set tests passed"
    )

    assert shift.entry(MAIN) == before
    assert in_doubt(shift.site) == ()
    assert (decided.body.decided, decided.body.decided_because) == ("cleared", "set tests passed")
    assert decided.body.reason == "sets too slowly"


def test_an_engineer_keeps_it_in_doubt_and_it_closes_nothing(shift: Shift) -> None:
    before = shift.entry(MAIN)
    doubt(shift)
    decide_batch(shift.site, BAD, shift.who(ENGINEER), decision="kept", reason="pull test failed")
    shift.wait(hours=48)

    assert [waits for _, waits in said(shift)] == ["an engineer keeps it in doubt"]
    assert [it.reason for it in in_doubt(shift.site)] == ["pull test failed"]
    assert (shift.entry(MAIN).line_m, shift.entry(MAIN).state) == (before.line_m, before.state)


def test_the_latest_decision_stands(shift: Shift) -> None:
    engineer = shift.who(ENGINEER)
    doubt(shift)
    decide_batch(shift.site, BAD, engineer, decision="kept", reason="pull test failed")
    decide_batch(shift.site, BAD, engineer, decision="cleared", reason="tests repeated")
    assert said(shift) == []
    doubt(shift)

    assert len(said(shift)) == 1
    assert [it.decided for it in batches(shift.site) if it.label == BAD] == [None]


@pytest.mark.parametrize("who", ["Day supervisor", "Geotechnical technician", "Bolter, crew A"])
def test_nobody_but_an_engineer_decides(shift: Shift, who: str) -> None:
    doubt(shift)
    with pytest.raises(NotYours):
        decide_batch(shift.site, BAD, shift.who(who), decision="cleared", reason="looks good")

    assert len(said(shift)) == 1


@pytest.mark.parametrize("who", [None, "Day supervisor", "Records keeper"])
@pytest.mark.parametrize(
    "milder",
    [
        {"in_doubt": False, "decided": "cleared"},
        {"in_doubt": False, "decide_by": None},
        {"in_doubt": False, "label": "another"},
        {"in_doubt": True, "decided": "kept"},
    ],
    ids=str,
)
def test_a_decision_counts_from_an_engineer_alone(
    shift: Shift, who: str | None, milder: dict[str, object]
) -> None:
    doubted = doubt(shift)
    before = said(shift)
    restate(shift, doubted, who, **milder)

    assert said(shift) == before


def test_a_decision_without_standing_is_no_step_to_a_milder_word(shift: Shift) -> None:
    doubted = doubt(shift)
    before = said(shift)
    restate(shift, doubted, "Day supervisor", in_doubt=False, decided="cleared")
    false_one = max(shift.site.store.ledger.of_thing(doubted.id), key=lambda it: it.clock)
    restate(shift, Known(false_one, doubted.body), None, in_doubt=False)

    assert said(shift) == before


def test_below_an_engineer_nobody_withdraws_a_doubt(shift: Shift) -> None:
    doubted = doubt(shift, "Bolter, crew A")
    with pytest.raises(NotYoursToWithdraw):
        withdraw(shift.site, doubted.entry.revision, shift.who(), reason="by mistake")
    withdraw(shift.site, doubted.entry.revision, shift.who(ENGINEER), reason="wrong label")

    assert said(shift) == []
    assert BAD in [it.label for it in batches(shift.site)]


def test_entering_the_label_once_more_clears_no_doubt(shift: Shift) -> None:
    doubt(shift)
    add_batch(shift.site, Batch(label=BAD, of="bolts"), shift.who())

    assert len(said(shift)) == 1


def test_a_batch_that_nobody_doubts_is_not_decided_on(shift: Shift) -> None:
    engineer = shift.who(ENGINEER)
    with pytest.raises(NotInDoubt):
        decide_batch(shift.site, BAD, engineer, decision="kept", reason="as a precaution")
    with pytest.raises(NoSuchBatch):
        decide_batch(shift.site, "XX-1", engineer, decision="kept", reason="as a precaution")


def test_two_doubts_of_two_tablets_are_decided_on_at_once(shift: Shift) -> None:
    known = next(it for it in current(shift.site, "batch", Batch) if it.body.label == BAD)
    doubt(shift)
    restate(shift, known, None, in_doubt=True, reason="rusty in the pack")
    assert len([it for it in batches(shift.site) if it.label == BAD]) == 2
    decide_batch(shift.site, BAD, shift.who(ENGINEER), decision="cleared", reason="looked at")

    assert said(shift) == []
    assert len([it for it in batches(shift.site) if it.label == BAD]) == 1
