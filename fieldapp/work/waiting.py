"""What a heading waits for: the round to go on with, to look at again, or to begin."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from fieldapp.work.heading_record import heading_record
from fieldapp.work.known import Known
from fieldapp.work.rounds import OpenRound
from fieldapp.work.site import Site
from schemas.bodies.heading import Heading

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

    A round that was recorded and not accepted, or stated otherwise beside what was accepted, is
    looked at again before the next one begins;
    one that was fired for is begun; where the last round stands accepted, nothing waits.
    """
    if draft is not None:
        return Waiting("go on", draft.work.began.number, draft.work.round_id, draft.since)
    record = heading_record(site, place.id)
    if not record.last_rounds:
        fired_at = record.fired_after(place.entry.made_at)
        return Waiting("begin", place.body.last_round + 1, since=fired_at)
    latest = record.last_rounds[-1]
    decided = {it for same in record.last_rounds for it in same.decisions}
    unsigned = any(not it.decisions for it in record.last_rounds if it.round_id == latest.round_id)
    if unsigned or decided != {"accepted"}:
        return Waiting("look again", latest.number, latest.round_id)
    fired_at = record.fired_after(latest.recorded_at)
    return Waiting("begin" if fired_at else "nothing", latest.number + 1, since=fired_at)
