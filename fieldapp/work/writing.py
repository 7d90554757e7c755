"""Putting a statement into an entry: who, when, which revision it supersedes."""

from fieldapp.work.rechaining import chained
from fieldapp.work.site import Site
from schemas.entry import Entry, Stated, new_entry
from schemas.logical_clock import LogicalClock, LogicalTime
from schemas.part import Part
from schemas.uuid7 import RANDOM_BYTES, uuid7

NOBODY = "nobody"
"""Author of what is stated from a locked screen: stricter entry is open to anyone."""

SCHEMA_VERSION = 1


def new_thing_id(site: Site) -> str:
    """Make the id of a new thing."""
    milliseconds = int(site.now().timestamp() * 1000)
    return str(uuid7(milliseconds, site.chance(RANDOM_BYTES)))


def written(  # noqa: PLR0913 - what an envelope says
    site: Site,
    kind: str,
    body: Part,
    *,
    author: str | None,
    thing_id: str | None = None,
    parents: tuple[str, ...] = (),
    after: Entry | None = None,
) -> Entry:
    """Write an entry without keeping it yet, so that several can be kept in one step.

    Chainages are today's, where the body doesn't say by which they are. `after` is the entry
    written just before in the same step, not yet kept.
    """
    body = chained(site, body)
    return new_entry(
        kind,
        SCHEMA_VERSION,
        thing_id or new_thing_id(site),
        body.model_dump(mode="json", exclude_none=True),
        stated_now(site, author, after=after),
        parents=parents,
        must=body.must,
    )


def stated_now(site: Site, author: str | None, *, after: Entry | None = None) -> Stated:
    """Give who states something and when, later than all that is known here."""
    now = site.now()
    wall_ms = int(now.timestamp() * 1000)
    known = site.store.ledger.latest_clock(wall_ms), after and after.clock
    latest = max((time for time in known if time), default=LogicalTime(0))
    clock = LogicalClock(latest).tick(wall_ms)
    return Stated(
        author=author or NOBODY, made_at=now, zone=site.settings.zone, clock=clock.latest
    )


def state(
    site: Site,
    kind: str,
    body: Part,
    *,
    author: str | None,
    thing_id: str | None = None,
    parents: tuple[str, ...] = (),
) -> Entry:
    """Write an entry and keep it, durably, before this returns."""
    entry = written(site, kind, body, author=author, thing_id=thing_id, parents=parents)
    site.store.ledger.add([entry])
    return entry
