"""What a report says of the rehab list: what is done first, and what was verified lately."""

import time
from collections.abc import Sequence
from datetime import timedelta
from typing import Final

from fieldapp.work.authority import at_one_state
from fieldapp.work.headings import heading
from fieldapp.work.known import Known, one
from fieldapp.work.rehab.rehab_list import RehabRow, rehab_list
from fieldapp.work.rehab.revisions import strictest_of
from fieldapp.work.reporting.damages import damage_told, repair_told
from fieldapp.work.reporting.facts import (
    RehabFacts,
    RehabLine,
)
from fieldapp.work.reporting.heading import about
from fieldapp.work.reporting.then import Reported
from fieldapp.work.reporting.told import (
    RepairTold,
)
from schemas.bodies.rehab import Rehab
from sync.outcome import Progress, Watcher, nobody

LATELY: Final = timedelta(days=31)
"""What was verified so long ago still stands in the list."""


def rehab_report(on: Reported, name: str | None = None, watch: Watcher = nobody) -> RehabFacts:
    """Gather the rehab list, of one heading where it is named.

    Raises
    ------
    NoSuchHeading
        Nothing of that name is known.
    Stopped
        The watcher stopped it.
    """
    sight = on.sight
    with at_one_state(sight, anew=True):
        place = heading(sight, name) if name else None
        rows = [
            it
            for it in rehab_list(sight, on.at, verified=True)
            if place is None or it.heading_id == place.id
        ]
        lines = rehab_lines(on, rows, watch)
    opened = tuple(it for it in lines if it.state != "verified")
    ended = (it for it in lines if it.state == "verified" and _is_late(on, it.repair))
    return RehabFacts(
        **about(on),
        heading=place.id if place else None,
        heading_name=place.body.name if place else None,
        lines=opened,
        verified=tuple(sorted(ended, key=_verified_at, reverse=True)),
    )


def rehab_lines(
    on: Reported, rows: Sequence[RehabRow], watch: Watcher = nobody
) -> tuple[RehabLine, ...]:
    """Tell of lines of the rehab list, numbered in the order in which they are done."""
    began_s, told = time.monotonic(), []
    for number, row in enumerate(rows, start=1):
        watch(Progress("gathering repairs", number - 1, len(rows), 0, time.monotonic() - began_s))
        told.append(_line(on, row, number))
    return tuple(told)


def _line(on: Reported, row: RehabRow, number: int) -> RehabLine:
    return RehabLine(
        heading_id=row.heading_id,
        heading=row.heading,
        place=number,
        from_m=row.from_m,
        to_m=row.to_m,
        state=row.state,
        damages=tuple(damage_told(on, it) for it in row.damages),
        repair=repair_told(on, _known(on, row.id)) if row.rehab else None,
    )


def _known(on: Reported, rehab_id: str) -> Known[Rehab]:
    return strictest_of(one(on.sight, "rehab", Rehab, rehab_id))


def _is_late(on: Reported, repair: RepairTold | None) -> bool:
    at = repair.verified_at if repair else None
    return at is not None and on.at - at <= LATELY


def _verified_at(line: RehabLine) -> tuple[str, str]:
    at = line.repair.verified_at if line.repair else None
    return (at.isoformat() if at else "", line.heading_id)
