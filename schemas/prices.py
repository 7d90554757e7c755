"""What support costs the mine, so that a trend can say what a metre of it does."""

from pydantic import Field

from schemas.numbers import Money
from schemas.part import Part


class BoltPrice(Part):
    """Of one bolt of a type, without its plate and resin."""

    bolt_type: str
    each: Money


class Prices(Part):
    """In one currency. Nothing is judged by them."""

    currency: str = Field(min_length=1, max_length=12)
    """As it is printed behind a sum."""
    bolts: tuple[BoltPrice, ...] = Field(min_length=1, max_length=60)
    plate_each: Money
    mesh_per_m2: Money
    capsule_each: Money
    person_per_h: Money
    """One person of the crew, for an hour."""
    because: str = Field(min_length=3)
