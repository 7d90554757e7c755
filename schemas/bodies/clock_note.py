"""A tablet says that its own clock was found to be off, so that readers of its times know."""

from typing import Literal

from pydantic import AwareDatetime

from schemas.part import Part

Found = Literal["put back", "behind"]


class ClockNote(Part):
    """The author, a tablet, gave times that can't be right.

    Whether a clock that was put back was wrong before or is wrong since, nobody can know from
    the tablet alone. What was stated stands as it was stated.
    """

    found: Found
    """Put back behind a time that it had given itself; or behind what two others gave."""
    said: AwareDatetime
    """What it said then."""
    known: AwareDatetime
    """The later time that was known already: it was off by the difference, or more."""
