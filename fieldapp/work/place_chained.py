"""By which chainages the place of a draft was given, that was begun before others were measured.

Every touch that gives a place says what the tablet knew then. What was given before stays as it
was read; what may have been read by old marks or by new ones is asked once more, never guessed.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final, TypeVar

from fieldapp.work.headings import heading
from fieldapp.work.rechaining import chained_now, rechained_of
from fieldapp.work.said_touches import SaidTouch
from fieldapp.work.site import Site
from schemas.bodies.in_heading import InHeading
from schemas.trouble import NotAllowed

Touch = TypeVar("Touch", bound=SaidTouch)
Stated = TypeVar("Stated", bound=InHeading)

PLACES: Final = frozenset({"chainage_m", "from_m", "to_m"})
BEGINS: Final = frozenset({"chainage_m", "from_m"})
"""Where something is, or begins; of an intersection its other end follows from that."""


@dataclass(eq=False)
class PlaceInDoubt(NotAllowed):
    """Nobody knows by which marks a place was read."""

    heading: str
    at_m: str

    happened = (
        "The chainages of {heading} were measured anew, and this tablet heard of it after "
        "{at_m} m was given: by the old marks or by the new ones, it doesn't know."
    )
    kept = "Everything that was given is on this tablet; nothing was stated yet."
    do_next = "Take back what was answered up to the place, and give it by today's chainages."


def touched_there(site: Site, heading_id: str, touch: Touch) -> Touch:
    """Give a touch with the word by which chainages the place is that it gives, if any."""
    at = chained_now(site, heading_id) if BEGINS & touch.says.keys() else None
    if at is None:
        return touch
    return touch.model_copy(update={"says": {**touch.says, "chained_at": at.isoformat()}})


def by_its_touches(
    site: Site, body: Stated, touches: Sequence[SaidTouch], began_at: datetime
) -> Stated:
    """Give what is to be stated with the time by whose chainages its place was given.

    Raises
    ------
    PlaceInDoubt
        It was given after others had been measured, and before this tablet heard of them.
    """
    heading_id, own = str(getattr(body, "heading", "")), body.chained_at
    later = [it.at for it in rechained_of(site, heading_id) if own is None or it.at > own]
    if not later:
        return body
    given_at = max((it.at for it in touches if PLACES & it.says.keys()), default=began_at)
    if given_at >= later[0]:
        at_m = next(getattr(body, it) for it in ("chainage_m", "from_m") if hasattr(body, it))
        raise PlaceInDoubt(heading(site, heading_id).body.name, f"{at_m}")
    return body.model_copy(update={"chained_at": own or given_at})
