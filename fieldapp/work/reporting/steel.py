"""What a report says of old steel that was read: what is left, how fast it goes, for how long."""

from collections.abc import Iterator
from decimal import Decimal

from fieldapp.work.reporting.facts import SteelTold
from fieldapp.work.reporting.then import Reported
from fieldapp.work.standard_in_force import NoStandard, in_force
from fieldapp.work.walk.section_condition import support_record
from fieldapp.work.walk.section_history import sections_known
from fieldapp.work.walk.section_steel import Rusting, SteelKnown, steel_of


def steel_told(on: Reported, heading_id: str) -> Iterator[SteelTold]:
    """Tell of the pieces that were read, from the origin inbye, then of what nobody read.

    Of none without a standard; of what nobody read only where the record says when it was put up,
    and the standard how fast steel goes there.
    """
    try:
        standard = in_force(on.sight, on.at).body
    except NoStandard:
        return
    by = Rusting(support_record(on.sight, heading_id), standard, on.at)
    unread: dict[tuple[str, str, Decimal], list[tuple[SteelKnown, Decimal]]] = {}
    for known in sections_known(on.sight, heading_id):
        for it in steel_of(by, known):
            if it.readings:
                yield _told(it)
            else:
                kind = it.part, it.piece.steel, it.piece.new_mm
                unread.setdefault(kind, []).append((it, known.section.to_m))
    yield from (_by_age(it) for it in unread.values())


def _by_age(pieces: list[tuple[SteelKnown, Decimal]]) -> SteelTold:
    """Tell of steel of one kind that nobody read: how far it reaches, and its worst."""
    worst = min((it for it, _ in pieces), key=_left)
    reach = {"chainage_m": min(it.at_m for it, _ in pieces), "to_m": max(to for _, to in pieces)}
    return _told(worst).model_copy(update=reach)


def _left(it: SteelKnown) -> Decimal:
    return Decimal(1) if it.judged.share is None else it.judged.share


def _told(it: SteelKnown) -> SteelTold:
    last, judged = (it.readings[-1] if it.readings else None), it.judged
    rate, lasts = judged.rate, judged.lasts
    interval = rate.interval if rate else None
    return SteelTold(
        part=it.part,
        zone=it.zone,
        steel=it.piece.steel,
        chainage_m=it.at_m,
        s_m=it.s_m,
        new_mm=it.piece.new_mm,
        to_m=None,
        readings=len(it.readings),
        last_read_at=last.at if last else None,
        last_read_mm=last.left_mm if last else None,
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
