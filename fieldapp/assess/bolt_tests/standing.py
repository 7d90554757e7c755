"""Which revision of a test stands: one that lets a failure go waits until an engineer agrees."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Final

from fieldapp.assess.bolt_tests.follows import JudgedTest, counts_as_gone
from schemas.bodies.bolt_test import BoltTest

SAME_PLACE_M: Final = Decimal("0.05")
"""Chainages so near each other are one place. Common practice, no source."""


def standing(line: Sequence[JudgedTest]) -> int:
    """Say which revision of a test stands.

    Parameters
    ----------
    line : sequence of JudgedTest
        Its revisions since an engineer stated it last, that one first, the newest last. [-]

    Returns
    -------
    int
        Where in the line it is. What failed stands until a revision fails on the same bolt: that
        it passed, or was another bolt, is for an engineer to say. [-]

    Source
    ------
    Common practice, no source: nobody clears their own failed test.
    """
    stands = 0
    for number, it in enumerate(line):
        if not _lets_go(line[stands], it):
            stands = number
    return stands


def _lets_go(before: JudgedTest, after: JudgedTest) -> bool:
    """Tell whether what a test showed of its bolt would be gone from there."""
    failed, gone = before.result.failed, counts_as_gone(before)
    if not failed and not gone:
        return False
    kept = (after.result.failed or not failed) and (counts_as_gone(after) or not gone)
    return not (kept and _is_same_bolt(before.test, after.test))


def _is_same_bolt(one: BoltTest, other: BoltTest) -> bool:
    """Tell whether two revisions speak of one bolt; a number that one leaves out is no other."""
    stated = ((one.bolt, other.bolt), (one.round, other.round))
    return (
        abs(one.chainage_m - other.chainage_m) <= SAME_PLACE_M
        and (one.kind, one.zone, one.bolt_type, one.part_of_support)
        == (other.kind, other.zone, other.bolt_type, other.part_of_support)
        and all(None in it or it[0] == it[1] for it in stated)
    )
