"""Bolts that failed a test: whether another stands beside them, and how their batch stands."""

from collections.abc import Sequence

from fieldapp.assess.bolt_tests import BatchStands, JudgedTest, Replaced, is_failed_support
from fieldapp.assess.bolt_tests.failed_support import is_damage_of, passed_after
from fieldapp.work.batches import batches
from fieldapp.work.damage.stating import DamageKnown
from fieldapp.work.site import Sight


def replaced(
    one: JudgedTest, tests: Sequence[JudgedTest], gone: Sequence[DamageKnown]
) -> Replaced:
    """Say how far support that failed is: it is damage to support, and repaired as such."""
    if not is_failed_support(one) or passed_after(one, tests):
        return "not needed"
    of_it = [it for it in gone if _is_of(it, one)]
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


def _is_of(damage: DamageKnown, one: JudgedTest) -> bool:
    return any(is_damage_of(seen.damage, one.test) for seen in damage.damage.seen)
