"""Check numbers that two people compare, and what is told where they differ."""

from dataclasses import dataclass

from schemas.trouble import NotAllowed


@dataclass(eq=False)
class WrongCheckNumber(NotAllowed):
    """Somebody read another check number: the two machines don't mean the same key."""

    whose: str
    happened = "The check number is not the one of {whose}."
    kept = "Nobody was enrolled and nothing was changed."
    do_next = "Read the number on the tablet once more; if it stays another, begin anew there."


@dataclass(eq=False)
class WrongSiteNumber(WrongCheckNumber):
    """The office shows another number than the answer that the tablet was given."""

    kept = "Nothing was changed; this tablet belongs to no share by it."
    do_next = "Read the number in the office once more; if it stays another, have it answer anew."
