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
