"""How old the newest record of trust is, and making a new one.

A shared folder that shows no newer records may be an old copy, or somebody may hold them back:
whoever was revoked since is believed on then. The office makes a record each month at the
least, and a machine whose newest is older says so. It goes by the time that the office signed:
when a record came here says nothing, for an old one may come late.
"""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from fieldapp.work.own_keys import site_key_with
from fieldapp.work.site import Site
from fieldapp.work.site_states import is_paired, state_as_site
from sync.trust import Trust

OLD_AFTER: Final = timedelta(days=30)
DUE_AFTER: Final = timedelta(days=20)
"""The office is reminded this soon, so that a stick has ten days to come round."""
CLOCKS_APART: Final = timedelta(days=1)
"""A record from farther ahead than this proves that one of two clocks is wrong."""


@dataclass(frozen=True)
class Renewal:
    """The newest record of trust, by the clock of whoever asks."""

    made_at: datetime | None
    """None where the records don't say it, as old versions wrote them."""
    now: datetime

    @property
    def age(self) -> timedelta | None:
        """How old it is; less than nothing where it comes from ahead."""
        return None if self.made_at is None else self.now - self.made_at

    @property
    def is_ahead(self) -> bool:
        """Whether one of the two clocks must be wrong, so that nobody can tell its age."""
        return self.age is not None and self.age < -CLOCKS_APART

    @property
    def is_old(self) -> bool:
        """Whether somebody may have been revoked long since."""
        return self.age is None or self.is_ahead or self.age > OLD_AFTER

    @property
    def is_due(self) -> bool:
        """Whether the office makes a new one now."""
        return self.is_old or (self.age is not None and self.age > DUE_AFTER)


def renewal(site: Site) -> Renewal | None:
    """Give the newest record of trust here; None without a share, or before the first came."""
    return renewal_of(site.store.holdings.trust(), site.now()) if is_paired(site) else None


def renewal_of(trust: Trust, now: datetime) -> Renewal | None:
    """Give the newest record of a row, as at a time; None where there is none yet."""
    return Renewal(trust.renewed_at, now) if trust.number else None


def renew(site: Site, *, site_code: str) -> None:
    """Make a record that says nothing but when it was made.

    Raises
    ------
    NotPaired
        This machine belongs to no share.
    NotAllowed
        `site_code` does not open the site's key.
    NoShareNamed, NoShareHere, ShareGone, ShareFull, ShareReadOnly, TrustNotRead
        The share can't be written now; the records are as old as before.
    """
    root = site_key_with(site, site_code)
    site.store.holdings.trust()
    state_as_site(site, (), root)
