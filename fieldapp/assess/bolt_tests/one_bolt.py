"""Which tests are of one bolt: tested twice on one day it is one bolt, not two."""

from collections.abc import Sequence
from datetime import timedelta
from decimal import Decimal
from typing import Final

from fieldapp.assess.bolt_tests.follows import JudgedTest, known_as
from fieldapp.assess.bolt_tests.standing import SAME_PLACE_M
from schemas.bodies.bolt_test import BoltTest

DAY: Final = timedelta(days=1)


def may_be_one_bolt(one: BoltTest, other: BoltTest) -> bool:
    """Tell whether two tests may be of one bolt.

    Parameters
    ----------
    one, other : BoltTest
        In one heading. [m]

    Returns
    -------
    bool
        True for one kind of test at one place, but where both say which bolt it was and these
        are two. [-]

    Source
    ------
    Common practice, no source: how near is one place.
    """
    names = known_as(one), known_as(other)
    if None not in names:
        return one.kind == other.kind and names[0] == names[1]
    apart_m: Decimal = abs(one.chainage_m - other.chainage_m)
    return (one.kind, one.zone) == (other.kind, other.zone) and apart_m <= SAME_PLACE_M


def once_a_day(tests: Sequence[JudgedTest]) -> tuple[JudgedTest, ...]:
    """Count each bolt once where it was tested more often on one day.

    Parameters
    ----------
    tests : sequence of JudgedTest
        In any order. [-]

    Returns
    -------
    tuple of JudgedTest
        In the order in which they were made; of one bolt within a day the first, or the first
        that failed. A bolt that nobody can tell from the one beside it counts each time. [-]

    Source
    ------
    Common practice, no source: a share is of bolts, so that a bolt that is read twice is one.
    """
    counted: list[JudgedTest] = []
    last: dict[tuple[object, ...], int] = {}
    for it in sorted(tests, key=lambda one: (one.test.tested_at, one.id)):
        name = known_as(it.test)
        at = None if name is None else last.get((it.test.kind, *name))
        if at is None or it.test.tested_at - counted[at].test.tested_at >= DAY:
            if name is not None:
                last[it.test.kind, *name] = len(counted)
            counted.append(it)
        elif it.result.failed and not counted[at].result.failed:
            counted[at] = it
    return tuple(counted)
