"""Batches in doubt in words: which rounds, and who decides by when."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone
from decimal import Decimal

import pytest

from fieldapp.assess.entry.doubts import Doubt, doubts_of
from fieldapp.assess.entry.facts import BatchInDoubt, HeadingFacts, RoundFact

AT = datetime(2031, 5, 6, 22, 0, tzinfo=UTC)
BAD = BatchInDoubt("RES-1", "sets too slowly", AT + timedelta(hours=1))


def used_in(*numbers: int, batch: BatchInDoubt = BAD) -> HeadingFacts:
    rounds = tuple(
        RoundFact(str(n), n, Decimal(n), Decimal(n), None, None, batches=("RES-1", "RES-2"))
        for n in numbers
    )
    nought = Decimal(0)
    return HeadingFacts(nought, nought, nought, nought, nought, rounds, batches_in_doubt=(batch,))


def one(facts: HeadingFacts, at: datetime = AT) -> Doubt:
    (doubt,) = doubts_of(facts, at)
    return doubt


@pytest.mark.parametrize(
    ("numbers", "words"),
    [
        ((7,), "round 7"),
        ((8, 7), "rounds 7 and 8"),
        ((7, 9, 8), "rounds 7 to 9"),
        ((5, 9, 8), "rounds 5, 8 and 9"),
    ],
)
def test_a_batch_is_said_once_with_every_round_that_used_it(
    numbers: tuple[int, ...], words: str
) -> None:
    assert one(used_in(*numbers)).title == f"batch RES-1 in doubt, {words}"


def test_the_time_to_decide_is_said_by_the_mine_s_clock() -> None:
    half_past = AT.astimezone(timezone(timedelta(hours=1, minutes=30)))

    assert one(used_in(7)).waits == "an engineer decides until 23:00 UTC"
    assert one(used_in(7), half_past).waits.endswith("until 7 May 2031 00:30 UTC+01:30")


def test_it_is_overdue_from_that_very_time() -> None:
    assert "overdue" not in one(used_in(7), AT + timedelta(minutes=59)).waits
    assert "overdue since 6 May 2031 23:00 UTC" in one(used_in(7), AT + timedelta(hours=1)).waits


def test_what_was_kept_is_never_overdue() -> None:
    kept = used_in(7, batch=replace(BAD, kept=True))

    assert one(kept, AT + timedelta(days=9)).waits == "an engineer keeps it in doubt"


def test_a_batch_that_no_round_here_used_is_no_doubt_here() -> None:
    assert not doubts_of(used_in(7, batch=replace(BAD, label="RES-3")), AT)
