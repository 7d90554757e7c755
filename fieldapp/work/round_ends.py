"""Where a round ends and the next one meets it, by which chainages one is judged beside the other.

Two rounds share a row. Where chainages begin to be others just there, it moves, and the rounds
are together as they were.
"""

from datetime import datetime
from decimal import Decimal

from fieldapp.assess.readings import last_row_m
from fieldapp.assess.rechaining import Chaining
from fieldapp.work.known import Known
from fieldapp.work.rechaining import moved_by
from schemas.bodies.round import Round


def ends_m(known: Known[Round], at: datetime | None = None) -> Decimal:
    """Give where a round's last row is, today or by the chainages of a time.

    The next round meets it there: a row where chainages begin to be others moves with them.
    """
    last_m, joint_m = last_row_m(known.read), known.read.joint_m
    moved_m = known.chaining.today_m(last_m, at)
    if torn_at_m(known) is None:
        return moved_m
    return min(moved_m, last_m + known.chaining.today_m(joint_m, at) - joint_m)


def torn_at_m(known: Known[Round]) -> Decimal | None:
    """Give the chainage within a round, as read, from which only a part of it would move."""
    return known.chaining.torn_at_m(known.read.joint_m, last_row_m(known.read))


def beside(before: Known[Round], chaining: Chaining, joint_m: Decimal) -> Round:
    """Give the round before another, as whoever stated the other had it before them.

    It is judged so for ever. Its last row is where the other met it; where it was stated anew
    by newer chainages, it lies as far outbye of the other's joint, as read, as it does today.
    """
    own, other = before.chaining.since, chaining.since
    if own == other:
        return before.read
    if other is not None and (own is None or own < other):
        return moved_by(before.read, ends_m(before, other) - last_row_m(before.read))
    apart_m = chaining.today_m(joint_m) - ends_m(before)
    return moved_by(before.body, joint_m - apart_m - last_row_m(before.body))
