"""What is followed of damage: how much is found and repaired, and what is overdue."""

from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal
from typing import Final
from zoneinfo import ZoneInfo

from fieldapp.work.damage.stating import DamageKnown, damages
from fieldapp.work.heading_record import heading_record
from fieldapp.work.known import Known
from fieldapp.work.site import Timed
from fieldapp.work.trends.points import Evidence, Measure, Sample, groups_of
from fieldapp.work.trends.summing import Months
from schemas.bodies.heading import Heading
from schemas.numbers import said_m

_WHOLE: Final = Decimal(1)
FOUND: Final = Measure("damage-found", "Damage found", "a month", "count", _WHOLE, "as it is")
REPAIRED: Final = Measure(
    "damage-repaired", "Damage repaired", "a month", "count", _WHOLE, "as it is"
)
OVERDUE: Final = Measure("overdue", "Repairs overdue", "at month's end", "count", _WHOLE, "less")


def found(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield each damage when it was seen first."""
    for it in damages(site, site.now(), place.id):
        yield _sample(place, it, min(seen.damage.seen_at for seen in it.damage.seen))


def repaired(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield each damage when the repair of it that was verified was finished."""
    for it in damages(site, site.now(), place.id):
        at = _repaired_at(site, it)
        if at is not None:
            yield _sample(place, it, at)


def overdue(site: Timed, place: Known[Heading]) -> Iterator[Sample]:
    """Yield each damage at the end of each month in which it was due and not repaired.

    By the due date as the standard gives it today; of the running month: as it is now.
    """
    months = Months(ZoneInfo(site.settings.zone), site.now())
    for it in damages(site, months.until, place.id):
        if it.ranked.due_at is not None:
            ends_at = _repaired_at(site, it)
            for month in months.since(months.of(it.ranked.due_at)):
                end = min(months.after(month), months.until)
                if it.ranked.due_at < end and (ends_at is None or ends_at >= end):
                    yield _sample(place, it, month)


def _repaired_at(site: Timed, it: DamageKnown) -> datetime | None:
    """Give when a damage that stands as repaired was repaired; None while it is not."""
    if it.outcome is None:
        return None
    finished = [
        repair.rehab.finished_at
        for repair in heading_record(site, it.heading_id).rehabs
        if repair.rehab.state == "verified" and it.id in repair.rehab.damages
    ]
    return max((at for at in finished if at is not None), default=None)


def _sample(place: Known[Heading], it: DamageKnown, at: datetime) -> Sample:
    words = f"{place.body.name}, {it.newest.kind} at {said_m(it.from_m)} m"
    evidence = Evidence("damage", it.id, place.id, words, it.from_m)
    return Sample(at, Decimal(1), evidence, groups_of(place.body))
