"""A change of ground within a round."""

from pydantic import Field

from schemas.numbers import Chainage, Metres
from schemas.part import Part


class SecondDomain(Part):
    """Another ground domain: rows that stand past its beginning are put up by its class."""

    from_m: Chainage
    support_class: str
    told_by: str = Field(min_length=1, max_length=200)
    """Who said that the ground changes there: the plan, or somebody who may."""
    bolt_type: str | None = None
    """Code of the bolt type used past it; None: the one of the round."""
    bolt_length_m: Metres | None = None
