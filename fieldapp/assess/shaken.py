"""What shook the ground of a round, and nobody has looked since: what its support still carries.

No standard asks for it and none can leave it out: an event withdraws entry by itself.
"""

from datetime import UTC
from typing import Final

from fieldapp.assess.seen import Seen
from schemas.bodies.event import Event
from schemas.findings import Finding, Place, Verdict
from schemas.numbers import SAID_M, rounded, text

CHECK: Final = "events"


def shaken(seen: Seen) -> tuple[Event, ...]:
    """Give what reached the ground of a round and nobody has inspected after.

    Parameters
    ----------
    seen : Seen
        The round, and what happened to its heading. [m]

    Returns
    -------
    tuple of Event
        As they were stated. [-]

    Source
    ------
    Common practice, no source.
    """
    first_m, last_m = seen.all_rows[0].chainage_m, seen.all_rows[-1].chainage_m
    return tuple(
        it
        for it in seen.shaken_by
        if it.chainage_m - it.radius_m <= last_m and first_m <= it.chainage_m + it.radius_m
    )


def not_inspected(seen: Seen) -> tuple[Finding, ...]:
    """State that nobody knows what the support carries since an event, until somebody looks.

    Parameters
    ----------
    seen : Seen
        The round, and what happened to its heading. [m]

    Returns
    -------
    tuple of Finding
        One for all events; none where each was inspected after. [-]

    Source
    ------
    Common practice, no source.
    """
    events = shaken(seen)
    if not events:
        return ()
    said = "After an event"
    return (
        Finding(
            check=CHECK,
            title=said,
            verdict=Verdict.NOT_LOOKED_AT,
            holds=Verdict.NO_ENTRY,
            measured=None,
            uncertainty=None,
            limit=None,
            unit="",
            places=tuple(
                Place(chainage_m=it.chainage_m, words=f"capacity not known since: {_said(it)}")
                for it in events
            ),
            because="common practice",
            how="whoever inspects the ground after an event says so under Entry",
            basis="events as they were stated",
            fix=tuple(
                f"inspect the ground after: {_said(it)}, "
                f"{it.at.astimezone(UTC):%Y-%m-%d %H:%M} UTC"
                for it in events
            ),
        ),
    )


def _said(event: Event) -> str:
    at_m = text(rounded(event.chainage_m, SAID_M))
    return f"{event.what} at {at_m} m"
