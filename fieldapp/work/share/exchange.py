"""Meeting the shared folder: the exchange as a job of the day."""

from dataclasses import replace
from datetime import UTC, datetime
from functools import partial

from fieldapp.work.meeting import meeting
from fieldapp.work.own_keys import is_office
from fieldapp.work.share.photos_wanted import photos_wanted
from fieldapp.work.share.shifts import shift_ends
from fieldapp.work.site import Site
from schemas.settings import Settings
from sync.exchange import exchange
from sync.outcome import Outcome, Watcher, nobody
from sync.share_identity import check_share


def share(
    site: Site,
    place: str,
    *,
    watch: Watcher = nobody,
    deep: bool = False,
) -> Outcome:
    """Exchange with a shared folder, and give what went out, came in, waits and was refused.

    Raises
    ------
    NotPaired
        This tablet belongs to no share yet.
    NoShareHere, AnotherShare
        The folder is not this site's; nothing was written.
    ShareGone
        It went away; what was done is done, the rest waits.
    """
    before = last_exchange(site)
    met = replace(
        meeting(site, place, watch=watch),
        photos_wanted=partial(photos_wanted, site),
        keeps_photos=is_office(site),
    )
    outcome = exchange(met, deep=deep)
    if is_office(site):
        outcome.trust_written = _written_since(site, before)
    if not outcome.stopped:
        site.store.holdings.note_exchanged(site.now().timestamp())
    return outcome


def _written_since(site: Site, before: datetime | None) -> int:
    """Give the number of the newest record of trust, if it was made since; it went out then."""
    trust = site.store.holdings.trust()
    at = trust.renewed_at
    return trust.number if at is not None and (before is None or at > before) else 0


def named_share(site: Site, place: str) -> Settings:
    """Give the settings that name a place, once it was seen to be this site's share.

    Raises
    ------
    NotPaired, NoShareHere, AnotherShare, ShareGone
        It is not there, or not this site's.
    """
    met = meeting(site, place)
    check_share(met.folder, site.store.holdings.trust().store)
    return site.settings.model_copy(update={"share": met.folder.place})


def last_exchange(site: Site) -> datetime | None:
    """Give when others were last heard of; None before the first time, and without a share."""
    at_s = site.store.holdings.exchanged_at_s()
    return None if at_s is None else datetime.fromtimestamp(at_s, UTC)


def is_old(site: Site, heard_at: datetime) -> bool:
    """Whether the shift in which others were last heard of is over: somebody asks then."""
    now = site.now()
    return now < heard_at or now >= shift_ends(site.settings, heard_at)
