"""Somebody told an engineer of a test that support failed."""

from typing import Literal

from pydantic import AwareDatetime, Field

from schemas.part import Part

ToldBy = Literal["face to face", "by radio", "by phone", "in writing"]


class Told(Part):
    """Who was told, when and by which means: its author's word, which nobody signs."""

    heading: str
    test: str
    """Id of the test that failed."""
    who: str = Field(min_length=1, max_length=60)
    """Name of the engineer."""
    by: ToldBy
    at: AwareDatetime
