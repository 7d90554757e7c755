"""A heading: an advancing end, and the name of its place in the mine."""

from pydantic import Field

from schemas.numbers import Chainage
from schemas.part import Part


class Heading(Part):
    """One heading of the mine."""

    name: str = Field(min_length=1, max_length=60)
    level: str = Field(default="", max_length=40)
    support_class: str
    """Code of the support class put up here."""
    face_m: Chainage
    """Chainage of the face when the heading was entered."""
    last_row_m: Chainage
    """Chainage of the last supported row then."""
    supported_before: bool = False
    """True: what lies outbye was supported before this record began, and is "not known"."""
    other_way_out: bool = False
    """Whether somebody inbye of a closed place can leave by another way."""
    last_round: int = Field(default=0, ge=0, le=99_999)
    demo: bool = False
