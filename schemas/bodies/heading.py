"""A heading: an advancing end, and the name of its place in the mine."""

from pydantic import AwareDatetime, Field

from schemas.corrosion_rules import Corrosivity
from schemas.numbers import Chainage, Coordinate, Offset
from schemas.part import Part


class SurveyedPoint(Part):
    """A point of the heading's surveyed line, in the mine's own grid."""

    chainage_m: Chainage
    east_m: Coordinate
    north_m: Coordinate
    height_m: Coordinate
    """Of the floor."""


class Rechained(Part):
    """Chainages were measured anew: what was read before stays as read, and is shifted."""

    from_m: Chainage
    """As it was read before: this and what lies inbye of it."""
    by_m: Offset
    """Added to give today's chainage."""
    at: AwareDatetime
    """What was seen before is shifted."""


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
    corrosivity: Corrosivity | None = None
    """Of its air and water; None: nobody has said."""
    exposure: str | None = None
    """How much people are beneath: code of the standard's own list."""
    surveyed: tuple[SurveyedPoint, ...] = Field(default=(), max_length=2_000)
    """The line along which chainage is measured, from the origin on."""
    rechained: tuple[Rechained, ...] = Field(default=(), max_length=50)
    demo: bool = False
