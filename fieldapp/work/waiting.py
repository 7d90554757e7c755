"""What a heading waits for: the round to go on with, to look at again, or to begin."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from fieldapp.work.events import events
from fieldapp.work.known import Known
from fieldapp.work.rounds import OpenRound, last_round
from fieldapp.work.signed import standing
from fieldapp.work.site import Site
from schemas.bodies.heading import Heading
from schemas.bodies.round import Round

Waits = Literal["go on", "look again", "begin", "nothing"]


@dataclass(frozen=True)
class Waiting:
    """What a heading waits for, and which round that is.

    `round_id` is the round that is open, or recorded and looked at again; `since` is when the
    round was fired, or opened.
    """

    what: Waits
    number: int
    round_id: str = ""
    since: datetime | None = None


def waiting(site: Site, place: Known[Heading], draft: OpenRound | None) -> Waiting:
    """Find what a heading waits for.

    A round that was recorded and not accepted is looked at again before the next one begins;
    one that was fired for is begun; where the last round stands accepted, nothing waits.
    """
    if draft is not None:
        return Waiting("go on", draft.work.began.number, draft.work.round_id, draft.since)
    latest = last_round(site, place.id)
    fired_at = _fired_after(site, place, latest)
    if latest is None:
        number = place.body.last_round + 1
        return Waiting("begin", number, since=fired_at)
    if not _is_accepted(site, latest):
        return Waiting("look again", latest.body.number, latest.id)
    what: Waits = "begin" if fired_at else "nothing"
    return Waiting(what, latest.body.number + 1, since=fired_at)


def _is_accepted(site: Site, seen: Known[Round]) -> bool:
    signed = standing(site, [seen])
    return bool(signed) and all(it.body.decision == "accepted" for it in signed)


def _fired_after(
    site: Site, place: Known[Heading], latest: Known[Round] | None
) -> datetime | None:
    """Give the last firing since the last round was recorded, or since the heading was."""
    since = latest.entry.made_at if latest else place.entry.made_at
    fired = [it.body.at for it in events(site, place.id) if it.body.what == "fired"]
    return max((at for at in fired if at > since), default=None)
