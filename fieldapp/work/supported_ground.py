"""Which ground of a heading is supported: what condition walks go through."""

from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal

from fieldapp.assess.readings import last_row_m
from fieldapp.assess.walk import Section, today_m
from fieldapp.work.authority import Which, counting
from fieldapp.work.heading_record import heading_record
from fieldapp.work.rounds import rounds
from fieldapp.work.site import Site
from schemas.bodies.heading import Heading


def supported_ground(site: Site, heading_id: str) -> Section:
    """Give the supported ground of a heading, in today's chainages.

    From the origin where ground was supported before the record began, otherwise from the row
    that the record begins at; to the last row of the accepted rounds. What was fired or bolted
    since and is not accepted is not walked: it is looked at with its round.
    """
    record = heading_record(site, heading_id)
    began_m = _entered_m(site, heading_id, record.place)
    accepted = {it.round_id for it in record.rounds if it.decision == "accepted"}
    if record.place.rechained:
        rows = [began_m, *_rows_m(site, heading_id, record.place, accepted)]
    else:
        rows = [began_m, *(it.last_row_m for it in record.rounds if it.round_id in accepted)]
    return Section(Decimal(0) if record.place.supported_before else began_m, max(rows))


def _entered_m(site: Site, heading_id: str, place: Heading) -> Decimal:
    """Give where the last row was when the heading was entered."""
    return today_m(place.last_row_m, _entered_at(site, heading_id), place.rechained)


def _entered_at(site: Site, heading_id: str) -> datetime:
    stated = counting(site).stated(Which("heading", thing=heading_id))
    return min(it.made_at for it in stated)


def _rows_m(site: Site, heading_id: str, place: Heading, accepted: set[str]) -> Iterator[Decimal]:
    """Yield where the last rows of rounds are today: each was read when it was looked at."""
    for it in rounds(site, heading_id):
        if it.id in accepted:
            yield today_m(last_row_m(it.body), it.body.started_at, place.rechained)
