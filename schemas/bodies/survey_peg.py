"""A survey peg: a mark in the rock whose chainage was surveyed, from which places are taped."""

from pydantic import Field

from schemas.bodies.in_heading import InHeading
from schemas.numbers import Chainage, Offset


class SurveyPeg(InHeading):
    """One peg of one heading."""

    heading: str
    name: str = Field(min_length=1, max_length=40)
    """As it is stamped or painted beside the peg."""
    chainage_m: Chainage
    s_m: Offset | None = None
    """Along the rock from the crown, looking toward the face, left negative; None: not said."""
