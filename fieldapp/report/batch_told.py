"""Where a batch was used, in words: the same list on the glass and on the terminal."""

from dataclasses import dataclass
from zoneinfo import ZoneInfo

from fieldapp.report.words.findings import when
from fieldapp.report.words.lengths import span_words
from fieldapp.work.batches import rounds_of_batch
from fieldapp.work.headings import heading
from fieldapp.work.round_ends import ends_m
from fieldapp.work.site import Site


@dataclass(frozen=True)
class UsedIn:
    """One round that used a batch."""

    heading: str
    round: str
    """"round 87"."""
    place: str
    at: str
    """When somebody began to look at it."""


def used_in(site: Site, label: str) -> tuple[UsedIn, ...]:
    """Give every recorded round that used a batch, the newest first."""
    zone, units = ZoneInfo(site.settings.zone), site.settings.units
    used = sorted(rounds_of_batch(site, label), key=lambda it: it.body.started_at, reverse=True)
    return tuple(
        UsedIn(
            heading=heading(site, it.body.heading).body.name,
            round=it.body.name,
            place=span_words(it.body.joint_m, ends_m(it), units, " to "),
            at=when(it.body.started_at, zone),
        )
        for it in used
    )
