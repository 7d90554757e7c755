"""How much of what was stated here has arrived elsewhere: only another machine's word counts."""

from dataclasses import dataclass

from fieldapp.work.site import Site


@dataclass(frozen=True)
class Delivered:
    """How many segments a machine sealed."""

    sealed: int
    waits: int
    """So many of them no other machine has said to hold."""


def delivered(site: Site) -> Delivered:
    """Count this machine's segments, and those that no other machine has said to hold."""
    holdings = site.store.holdings
    rows, said = holdings.rows(), holdings.acknowledged()
    own = [held.name for it in holdings.own_tablets() for held in rows.get(it, ())]
    return Delivered(len(own), sum(name not in said for name in own))


def tablet_names(site: Site) -> dict[str, str]:
    """Give the names of the enrolled tablets by id; this machine is called so."""
    holdings = site.store.holdings
    named = {it.tablet: it.name for it in holdings.trust().tablets.values()}
    return named | dict.fromkeys(holdings.own_tablets(), "this machine")
