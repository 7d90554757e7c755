"""What a report says of old steel that was read: what is left, how fast it goes, for how long."""

from collections.abc import Iterator

from fieldapp.work.reporting.facts import SteelTold
from fieldapp.work.reporting.then import Reported
from fieldapp.work.standard_in_force import NoStandard, in_force
from fieldapp.work.walk.section_condition import support_record
from fieldapp.work.walk.section_history import sections_known
from fieldapp.work.walk.section_steel import Rusting, SteelKnown, steel_of


def steel_told(on: Reported, heading_id: str) -> Iterator[SteelTold]:
    """Tell of the pieces that were read, from the origin inbye; of none without a standard."""
    read = [
        it
        for it in sections_known(on.sight, heading_id)
        if any(look.seen.steel for look in it.looks)
    ]
    try:
        standard = in_force(on.sight, on.at).body
    except NoStandard:
        return
    by = Rusting(support_record(on.sight, heading_id), standard, on.at)
    yield from (_told(it) for known in read for it in steel_of(by, known) if it.readings)


def _told(it: SteelKnown) -> SteelTold:
    last, judged = it.readings[-1], it.judged
    rate, lasts = judged.rate, judged.lasts
    interval = rate.interval if rate else None
    return SteelTold(
        part=it.part,
        zone=it.zone,
        steel=it.piece.steel,
        chainage_m=it.at_m,
        s_m=it.s_m,
        new_mm=it.piece.new_mm,
        readings=len(it.readings),
        last_read_at=last.at,
        last_read_mm=last.left_mm,
        share_at_most=judged.share,
        share_at_least=it.left.share_at_least,
        rate_um_per_year=rate.um_per_year if rate else None,
        rate_from_um_per_year=interval.low if interval else None,
        rate_to_um_per_year=interval.high if interval else None,
        iso_9223=rate.corrosivity if rate else None,
        standards_rate=judged.usual,
        years_from=lasts.earliest if lasts else None,
        years_to=lasts.latest if lasts else None,
        words=judged.words,
        how_fast=it.how_fast,
    )
