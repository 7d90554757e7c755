"""Condition walks: supported ground in sections, where they are today, and when each is due."""

from fieldapp.assess.walk.rechaining import today_m
from fieldapp.assess.walk.sections import Section, section_number, sections_of

__all__ = ["Section", "section_number", "sections_of", "today_m"]
