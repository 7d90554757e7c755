"""Bolts that failed a test: whether another stands beside them, and how their batch stands."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Final

from fieldapp.assess.bolt_tests import BatchStands, JudgedTest, Replaced, counts_as_gone
from fieldapp.work.batches import batches
from fieldapp.work.damage import DamageKnown
from fieldapp.work.site import Sight
from schemas.bodies.bolt_test import BoltTest

SAME_PLACE_M: Final = Decimal("0.3")
"""Damage so near a failed bolt, in its zone, is that bolt."""
BOLT_GONE: Final = ("bolt broken", "bolt pulled")


def replaced(one: JudgedTest, gone: Sequence[DamageKnown]) -> Replaced:
    """Say how far a bolt that is gone is: it is damage to support, and repaired as such."""
    if not counts_as_gone(one):
        return "not needed"
    of_it = [it for it in gone if _is_that_bolt(it, one.test)]
    if not of_it:
        return "to be recorded as damage"
    restored = all(it.outcome == "restored" for it in of_it)
    return "replaced" if restored else "on the rehab list"


def batch_stands(site: Sight, one: JudgedTest) -> BatchStands:
    """Say what became of the batch of a failed bolt."""
    label = one.test.batch
    if label is None:
        return "nobody said which"
    named = [it for it in batches(site) if it.label == label]
    if not named:
        return "not entered"
    if any(it.decided is not None for it in named):
        return "decided"
    return "in doubt" if any(it.in_doubt for it in named) else "not in doubt"


def _is_that_bolt(damage: DamageKnown, test: BoltTest) -> bool:
    return any(
        seen.damage.kind in BOLT_GONE
        and seen.damage.zone == test.zone
        and abs(seen.damage.chainage_m - test.chainage_m) <= SAME_PLACE_M
        and seen.damage.seen_at >= test.tested_at
        for seen in damage.damage.seen
    )
