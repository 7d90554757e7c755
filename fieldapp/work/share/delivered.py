"""How much of what was stated here has arrived elsewhere: only another machine's word counts."""

from dataclasses import dataclass

from fieldapp.work.site import Site
from sync.belief import former_ids
from sync.holdings import Holdings
from sync.trust import Trust


@dataclass(frozen=True)
class Delivered:
    """How many segments a machine sealed."""

    sealed: int
    waits: int
    """So many of them no other machine has said to hold."""
    stated_since: int = 0
    """Entries that were stated since the last segment was sealed: they go out next."""


def delivered(site: Site) -> Delivered:
    """Count this machine's segments, and those that no other machine has said to hold."""
    holdings = site.store.holdings
    rows, said = holdings.rows(), holdings.acknowledged()
    own = [held.name for it in holdings.own_tablets() for held in rows.get(it, ())]
    waits = sum(name not in said for name in own)
    return Delivered(len(own), waits, site.store.sealing.stated_since())


def tablet_names(site: Site) -> dict[str, str]:
    """Give the names of tablets by id; this machine is called so.

    One that took a new key by itself is called by the enrolled tablet whose key it follows.
    """
    holdings = site.store.holdings
    trust = holdings.trust()
    named = {it.tablet: it.name for it in trust.tablets.values()}
    for tablet in holdings.rows().keys() - named.keys():
        followed = name_followed(holdings, trust, tablet)
        if followed:
            named[tablet] = f"{followed} by a new key"
    return named | dict.fromkeys(holdings.own_tablets(), "this machine")


def name_followed(holdings: Holdings, trust: Trust, tablet: str) -> str:
    """Give the name of the enrolled tablet whose key one follows; empty where it has none."""
    before = (it for it in former_ids(holdings.identity, tablet) if it in trust.tablets)
    return next((trust.tablets[it].name for it in before), "")
