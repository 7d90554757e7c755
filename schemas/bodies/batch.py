"""A batch of bolts, resin or mesh, and whether it is in doubt."""

from typing import Literal

from pydantic import AwareDatetime, Field

from schemas.numbers import Metres
from schemas.part import Part


class Batch(Part):
    """One delivery, as its label says."""

    label: str = Field(min_length=1, max_length=40)
    of: Literal["bolts", "resin", "mesh"]
    bolt_type: str | None = None
    length_m: Metres | None = None
    in_doubt: bool = False
    reason: str = Field(default="", max_length=400)
    decide_by: AwareDatetime | None = None
    """An engineer decides until then; it never closes a heading by itself."""
    decided: Literal["cleared", "kept"] | None = None
    """What an engineer decided: nothing is wrong with it, or it stays in doubt."""
    decided_because: str | None = Field(default=None, max_length=400)
