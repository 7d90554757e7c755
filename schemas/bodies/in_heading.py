"""What is stated of a place in a heading, and by which of its chainages."""

from pydantic import AwareDatetime

from schemas.part import Part


class InHeading(Part):
    """The common part of what names places in a heading by chainage."""

    chained_at: AwareDatetime | None = None
    """Its chainages hold every re-chaining of the heading up to then; None: it is not said, and
    whoever stated it had heard of none."""
