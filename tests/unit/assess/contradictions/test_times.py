"""Times at which nothing can have been looked at or done."""

from datetime import datetime, timedelta

import pytest

from fieldapp.assess import assess
from schemas.bodies.round import Called, GroundSeen
from schemas.findings import Verdict
from tests.unit.assess.conforming import (
    FINISHED,
    LOOKED,
    conforming,
    counted,
    with_round,
    with_row,
)
from tests.unit.assess.contradictions.contradicted import contradicted, the_one

IN_2099 = datetime.fromisoformat("2099-01-01T00:00:00Z")


BEFORE = LOOKED - timedelta(minutes=1)


def test_judged_before_the_round_was_begun() -> None:
    bundle = conforming().model_copy(update={"as_at": BEFORE})
    checks = {it.check for it in contradicted(bundle)}

    assert "times" in checks
    assert assess(bundle).rows_complete_to_m is None


def test_fired_after_it_was_looked_at() -> None:
    bolter = conforming().round.bolter.model_copy(update={"bolting_finished_at": None})
    fired = with_round(conforming(), fired_at=LOOKED + timedelta(minutes=5), bolter=bolter)

    assert the_one(fired)[:2] == (
        "times",
        "begun at 2031-05-05 08:00 UTC, and fired only at 2031-05-05 08:05 UTC",
    )


@pytest.mark.parametrize(
    ("at", "why"),
    [
        (IN_2099, "at 2099-01-01 00:00 UTC, after it was judged at 2031-05-05 08:00 UTC"),
        (BEFORE, "at 2031-05-05 07:59 UTC, before the round was begun at 2031-05-05 08:00 UTC"),
    ],
)
def test_a_row_counted_when_it_can_t_have_been(at: datetime, why: str) -> None:
    told = counted(9).model_copy(update={"at": at})

    assert the_one(with_row(conforming(), 2, counted=told)) == (
        "bolts_present",
        f"row 2: counted {why}",
        Verdict.MEASURE_AGAIN,
    )


def test_an_old_row_confirmed_in_another_year() -> None:
    rows = conforming().round.old_rows
    late = rows[1].model_copy(update={"confirmed": counted(9).model_copy(update={"at": IN_2099})})

    assert the_one(with_round(conforming(), old_rows=(rows[0], late)))[0] == "old_rows"


def test_somebody_told_after_it_was_judged() -> None:
    called = Called(who="the engineer", at=IN_2099, answer="goes on as it is")
    ground = GroundSeen(condition="wetter", called=called)

    assert the_one(with_round(conforming(), ground=ground))[0] == "ground_condition"


def test_bolts_put_in_after_it_was_judged_or_before_it_was_fired() -> None:
    bolter = conforming().round.bolter
    later = bolter.model_copy(update={"bolting_finished_at": IN_2099})
    fired = with_round(conforming(), fired_at=FINISHED + timedelta(hours=1))

    assert the_one(with_round(conforming(), bolter=later))[1] == (
        "the last bolt was in at 2099-01-01 00:00 UTC, after it was judged at 2031-05-05 08:00 UTC"
    )
    assert the_one(fired)[1] == (
        "the last bolt was in at 2031-05-04 02:00 UTC, "
        "before the round was fired at 2031-05-04 03:00 UTC"
    )
