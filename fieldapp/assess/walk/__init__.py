"""Condition walks: supported ground in sections, where they are today, and when each is due."""

from fieldapp.assess.rechaining import today_m
from fieldapp.assess.walk.condition import (
    PartStated,
    gravest,
    last_severities,
    said_last,
    worst_grade,
)
from fieldapp.assess.walk.due import Due, Interval, LookedAt, Shaken, due
from fieldapp.assess.walk.how_often import WORSE, Condition, interval
from fieldapp.assess.walk.in_full import zones_in_full
from fieldapp.assess.walk.sections import Section, section_number, sections_of
from fieldapp.assess.walk.to_look_at import BoltThere, RowThere, Spot, ToLookAt, to_look_at

__all__ = [
    "WORSE",
    "BoltThere",
    "Condition",
    "Due",
    "Interval",
    "LookedAt",
    "PartStated",
    "RowThere",
    "Section",
    "Shaken",
    "Spot",
    "ToLookAt",
    "due",
    "gravest",
    "interval",
    "last_severities",
    "said_last",
    "section_number",
    "sections_of",
    "to_look_at",
    "today_m",
    "worst_grade",
    "zones_in_full",
]
