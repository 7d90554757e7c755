"""Chainages that were measured anew since: as they were read, and where that is today."""

from decimal import Decimal

from assets.translate import _
from fieldapp.assess.rechaining import Chaining, in_order
from fieldapp.report.words.lengths import Units, chainage_words, span_words
from schemas.bodies.heading import Heading
from schemas.bodies.round import Round


def round_moved_m(heading: Heading, seen: Round) -> Decimal:
    """Give how far inbye of where it was stated a round lies today, outbye with a minus."""
    chaining = Chaining(in_order(heading.rechained), seen.chained_at)
    return chaining.today_m(seen.joint_m) - seen.joint_m


def round_span_words(
    heading: Heading, seen: Round, last_m: Decimal, units: Units, between: str
) -> str:
    """Write from where to where a round is, as it was read, and today where that is elsewhere."""
    read = span_words(seen.joint_m, last_m, units, between)
    by_m = round_moved_m(heading, seen)
    if not by_m:
        return read
    today = span_words(seen.joint_m + by_m, last_m + by_m, units, between)
    return _("read {read}, today {today}").format(read=read, today=today)


def place_read_words(read_m: Decimal | None, today_m: Decimal, units: Units) -> str:
    """Say of a place that it was read as another; nothing where it was not."""
    if read_m is None or read_m == today_m:
        return ""
    read, today = chainage_words(read_m, units), chainage_words(today_m, units)
    return _("read {read}, today {today}").format(read=read, today=today)
