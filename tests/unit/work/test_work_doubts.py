"""Times of a round's work that can hardly be so are asked about, and kept if they were."""

from datetime import UTC, datetime, timedelta

import pytest

from fieldapp.work.demo.story import ORE_S
from fieldapp.work.questions import Asker
from fieldapp.work.rounds import open_round
from fieldapp.work.touches.work import Delayed, SupportBegun, SupportFinished
from fieldapp.work.work_doubts import work_doubts
from fieldapp.work.work_figures import asked_first
from schemas.bodies.work_seen import Delay, WorkSeen
from tests.unit.work.conftest import Shift

NOW = datetime(2031, 5, 6, 12, tzinfo=UTC)


def hours(start: float, finish: float | None = None, *delays: int) -> tuple[str, ...]:
    """Give what is asked of work by how many hours from now it began and ended."""
    work = WorkSeen(
        started_at=NOW + timedelta(hours=start),
        finished_at=None if finish is None else NOW + timedelta(hours=finish),
        delays=tuple(Delay(minutes=it, cause="power") for it in delays),
    )
    return work_doubts(work, NOW)


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (hours(2), "Support is said to start at 14:00, which is still to come"),
        (
            hours(8760),
            "Support is said to start at 12:00 on 5 May 2032, which is still to come",
        ),
        (
            hours(-3, 1),
            "Support is said to be finished at 13:00, which is still to come",
        ),
        (
            hours(-2, -2.5),
            "Support is said to be finished at 09:30, no later than its start at 10:00",
        ),
        (hours(-40, 0), "From start to finish that is 40 hours, longer than a day"),
        (hours(-4.5, 0, 600), "600 min of delays is more than the 270 min that it took"),
    ],
)
def test_a_time_that_can_hardly_be_so_is_asked_about(asked: tuple[str, ...], said: str) -> None:
    assert asked == (said,)


def test_nothing_is_asked_of_a_shift_s_work_or_where_nothing_is_stated() -> None:
    assert hours(-4.5, -1, 20) == ()
    assert hours(-4.5) == ()
    assert work_doubts(None, NOW) == work_doubts(WorkSeen(), NOW) == ()


def test_on_the_tablet_it_is_asked_before_it_is_kept_and_only_what_is_new(shift: Shift) -> None:
    known = open_round(shift.site, shift.place(ORE_S).id)
    assert known is not None
    now = shift.clock()
    asker = Asker(at=now, by=None)
    begun = SupportBegun(at=now, by=None, started_at=now - timedelta(hours=2))
    ended = SupportFinished(at=now, by=None, finished_at=now - timedelta(hours=3))
    held_up = Delayed(at=now, by=None, delay=Delay(minutes=20, cause="power"))
    work = known.work.touched(begun)

    assert asked_first(known.work, begun, asker) == ()
    assert len(asked_first(work, ended, asker)) == 1
    assert asked_first(work.touched(ended), held_up, asker) == (), "it was said that it was so"
