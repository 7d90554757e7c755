"""Damage: how soon it is repaired, what entry is beneath it until then, and whether it grew."""

from fieldapp.assess.damage.observed import Observation, in_order
from fieldapp.assess.damage.priority import Ranked, priority, urgency
from fieldapp.assess.damage.repaired import Left, done_of, extent_of, left_of

__all__ = [
    "Left",
    "Observation",
    "Ranked",
    "done_of",
    "extent_of",
    "in_order",
    "left_of",
    "priority",
    "urgency",
]
