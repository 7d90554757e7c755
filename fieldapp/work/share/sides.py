"""Who stands behind each side of a dispute, as it is shown to whoever settles it."""

from dataclasses import dataclass
from datetime import datetime

from fieldapp.work.headings import heading
from fieldapp.work.people import name_of
from fieldapp.work.share.delivered import tablet_names
from fieldapp.work.share.disputes import Dispute, disputes
from fieldapp.work.site import Site
from fieldapp.work.site_states import is_paired
from schemas.entry import Entry

HERE = "this machine"


@dataclass(frozen=True)
class Side:
    """One of two revisions: who stated it, when, and on which tablet."""

    who: str
    at: datetime
    tablet: str


@dataclass(frozen=True)
class SideBySide:
    """A dispute, and what is shown above it."""

    dispute: Dispute
    what: str
    left: Side
    right: Side


def side_by_side(site: Site) -> tuple[SideBySide, ...]:
    """Give everything that is stated differently, with who stands behind each side."""
    names = tablet_names(site) if is_paired(site) else {}

    def side(entry: Entry) -> Side:
        origin = site.store.ledger.origin(entry.revision)
        tablet = names.get(origin, origin) if origin else HERE
        return Side(name_of(site, entry.author), entry.made_at, tablet)

    return tuple(
        SideBySide(it, _what(site, it.left), side(it.left), side(it.right))
        for it in disputes(site)
    )


def _what(site: Site, entry: Entry) -> str:
    """Name the thing: the round by number and heading, others by kind and name."""
    if entry.kind == "sign_off":
        signed = site.store.ledger.get(str(entry.body["round_revision"]))
        return f"decision on {_what(site, signed)}" if signed else "decision on a round"
    kind = entry.kind.replace("_", " ")
    named = entry.body.get("number") or entry.body.get("name") or entry.body.get("label")
    words = f"{kind} {named}" if named else kind
    place = entry.body.get("heading")
    return f"{words}, {heading(site, str(place)).body.name}" if place else words
