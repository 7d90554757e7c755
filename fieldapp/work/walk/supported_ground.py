"""Which ground of a heading is supported, and what of its support is on record."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from typing import Final

from fieldapp.assess.damage import done_of
from fieldapp.assess.entry.rounds_standing import advances
from fieldapp.assess.walk import Section
from fieldapp.work.damage_record import verified
from fieldapp.work.heading_record import heading_record
from fieldapp.work.known import Known, one
from fieldapp.work.round_ends import ends_m
from fieldapp.work.rounds import rounds
from fieldapp.work.site import Timed
from schemas.bodies.damage import DamageZone
from schemas.bodies.heading import Heading
from schemas.bodies.round import Round

ABOVE_THE_FLOOR: Final[tuple[DamageZone, ...]] = (
    "left wall",
    "left shoulder",
    "back",
    "right shoulder",
    "right wall",
)


@dataclass(frozen=True)
class Installed:
    """A stretch of ground, and the round in which its support was put up."""

    ground: Section
    """In today's chainages."""
    support_class: str
    """Of a round in two ground domains the first one's: `by_class` tells them apart."""
    round: Known[Round] | None
    """None: it was supported before the record began."""

    @property
    def at(self) -> datetime | None:
        """When the support was put up; None where nobody knows."""
        return None if self.round is None else put_up_at(self.round.body)

    @property
    def by_class(self) -> tuple["Installed", ...]:
        """Its stretches, each of its own class: two where the ground changes in its round."""
        second = None if self.round is None else self.round.body.second_domain
        if second is None or second.from_m >= self.ground.to_m:
            return (self,)
        past = replace(self, support_class=second.support_class)
        if second.from_m <= self.ground.from_m:
            return (past,)
        outbye = Section(self.ground.from_m, second.from_m)
        inbye = Section(second.from_m, self.ground.to_m)
        return (replace(self, ground=outbye), replace(past, ground=inbye))


@dataclass(frozen=True)
class Restored:
    """A stretch of which support was put up anew: by a verified repair or a round over old."""

    ground: Section
    """In today's chainages."""
    zones: tuple[DamageZone, ...]
    """None named: all of them."""
    at: datetime

    def covers(self, zone: DamageZone, ground: Section) -> bool:
        """Whether all of a stretch lies in it, in a zone."""
        named = not self.zones or zone in self.zones
        return named and self.ground.from_m <= ground.from_m and ground.to_m <= self.ground.to_m


def supported_ground(site: Timed, heading_id: str) -> Section:
    """Give the supported ground of a heading, in today's chainages.

    From the origin where ground was supported before the record began, otherwise from the row
    that the record begins at; to the last row of the accepted rounds. What was fired or bolted
    since and is not accepted is not walked: it is looked at with its round.
    """
    record = heading_record(site, heading_id)
    began_m = record.place.last_row_m
    rows = [it.last_row_m for it in advances(record.rounds) if it.decision == "accepted"]
    return Section(_origin_m(record.place), max([began_m, *rows]))


def installed(
    site: Timed, heading_id: str, within: Section | None = None
) -> tuple[Installed, ...]:
    """Give the support of a heading as it was put up, from the origin inbye.

    Only what lies in some of one stretch, where that is asked: no other round is read then.
    """
    place = heading_record(site, heading_id).place
    before = Section(_origin_m(place), place.last_row_m)
    old = [Installed(before, place.support_class, None)] if before.from_m < before.to_m else []
    found = [*old, *_rounds_installed(site, heading_id, within)]
    return tuple(
        it for it in found if within is None or within.overlaps(it.ground.from_m, it.ground.to_m)
    )


def restored(site: Timed, heading_id: str) -> tuple[Restored, ...]:
    """Give where support was put up anew, the oldest first.

    Those are repairs that somebody verified, and accepted rounds over old support: of the layer
    beneath nothing counts any more, neither its bolts nor its rust.
    """
    record = heading_record(site, heading_id)
    repaired = (
        Restored(Section(*done_of(it)), it.zones, it.finished_at)
        for it in verified(record.rehabs)
        if it.outcome == "restored" and it.finished_at is not None
    )
    over = {it.round_id for it in record.rounds if it.over_old and it.decision == "accepted"}
    anew = (
        Restored(Section(it.body.joint_m, ends_m(it)), ABOVE_THE_FLOOR, put_up_at(it.body))
        for it in _read(site, heading_id, over, all_of_them=False)
    )
    return tuple(sorted((*repaired, *anew), key=lambda it: (it.at, it.ground.from_m)))


def put_up_at(body: Round) -> datetime:
    """Give when the support of a round was put up; where nobody said it, when it was begun."""
    return body.bolter.bolting_finished_at or body.started_at


def _rounds_installed(
    site: Timed, heading_id: str, within: Section | None = None
) -> Iterator[Installed]:
    """Yield what the accepted rounds put up."""
    record = heading_record(site, heading_id)
    accepted = {
        it.round_id
        for it in record.rounds
        if it.decision == "accepted"
        and (within is None or within.overlaps(it.joint_m, it.last_row_m))
    }
    for it in _read(site, heading_id, accepted, all_of_them=within is None):
        yield Installed(Section(it.body.joint_m, ends_m(it)), it.body.support_class, it)


def _read(
    site: Timed, heading_id: str, accepted: set[str], *, all_of_them: bool
) -> Iterator[Known[Round]]:
    if all_of_them:
        yield from (it for it in rounds(site, heading_id) if it.id in accepted)
    else:
        for round_id in sorted(accepted):
            yield from one(site, "round", Round, round_id)


def _origin_m(place: Heading) -> Decimal:
    return Decimal(0) if place.supported_before else place.last_row_m
