"""Rows of records of trust that go apart, as after an office was restored from a copy.

The records keeper looks at what each says and settles it: one record follows the first row,
names the others and says once more whom they enrol. Whom it should not have is revoked.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from fieldapp.work.own_keys import site_key_with
from fieldapp.work.site import Site
from fieldapp.work.site_states import is_paired, state_as_site
from schemas.entry import read_entry
from schemas.trouble import BadInput
from sync.trust import Act, EnrolTablet, Renew, RevokeTablet, Settle, State, Taken, Trust


@dataclass(eq=False)
class NothingToSettle(BadInput):
    """The records of trust follow one another."""

    happened = "No two records of trust go apart: there is nothing to settle."
    kept = "Nothing was changed."
    do_next = "Share first if a tablet says otherwise: what it saw may not be here yet."


@dataclass(frozen=True)
class Rival:
    """One record of those in which rows go apart."""

    number: int
    hash16: str
    made_at: datetime | None
    says: tuple[str, ...]


def rivals(site: Site) -> tuple[Rival, ...]:
    """Give the records in which rows of them go apart; none where they follow one another."""
    if not is_paired(site):
        return ()
    trust = site.store.holdings.trust()
    return tuple(_rival(it, trust) for it in trust.disputed)


def settle_rivals(site: Site, *, site_code: str) -> None:
    """Have one record follow all rows, with everybody whom any of them enrols.

    Raises
    ------
    NothingToSettle
        No two records go apart.
    NotAllowed
        `site_code` does not open the site's key.
    NoShareNamed, NoShareHere, ShareGone, ShareFull, ShareReadOnly, TrustNotRead
        The share can't be written now; the records are as they were.
    """
    trust = site.store.holdings.trust()
    if not trust.disputed:
        raise NothingToSettle
    root = site_key_with(site, site_code)
    given_up = tuple(it.sha256 for it in trust.branches[1:])
    said = (act for it in trust.disputed for act in it.acts)
    again: list[Act] = [act for act in said if isinstance(act, EnrolTablet | State)]
    state_as_site(site, (), root, acts=[Settle(rivals=given_up), *again])


def _rival(record: Taken, trust: Trust) -> Rival:
    made = next((it.at for it in record.acts if isinstance(it, Renew)), None)
    said = tuple(_said(record, trust))
    return Rival(record.name.number, record.name.hash16, made, said)


def _said(record: Taken, trust: Trust) -> Iterator[str]:
    for act in record.acts:
        if isinstance(act, EnrolTablet):
            yield f"enrols {act.name} ({act.tablet})"
        elif isinstance(act, RevokeTablet):
            known = trust.tablets.get(act.tablet)
            yield f"revokes {known.name if known else act.tablet}"
        elif isinstance(act, State):
            body = read_entry(act.line.encode(), source=record.name.file).body
            roles = body.get("roles")
            listed = f" as {', '.join(map(str, roles))}" if isinstance(roles, list) else ""
            yield (
                f"revokes {body.get('name')}"
                if body.get("revoked")
                else (f"enrols {body.get('name')}{listed}")
            )
