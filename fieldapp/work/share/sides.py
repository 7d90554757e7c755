"""Who stands behind each side of a dispute, as it is shown to whoever settles it."""

from dataclasses import dataclass
from datetime import datetime

from fieldapp.assess import assess
from fieldapp.work.headings import heading
from fieldapp.work.judging import judged_bundle
from fieldapp.work.known import known_by
from fieldapp.work.people import name_of
from fieldapp.work.share.delivered import tablet_names
from fieldapp.work.share.disputes import Dispute, disputes
from fieldapp.work.site import Site
from fieldapp.work.site_states import is_paired
from schemas.bodies.round import Round
from schemas.bodies.sign_off import SignOff
from schemas.entry import Entry
from schemas.findings import Finding

HERE = "this machine"
CALLED = {"rehab": "repair"}
"""As people call it, where the records have another word."""


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


FoundApart = tuple[Finding | None, Finding | None]
"""What a check found by the left side and by the right one; None: it found nothing to say."""


def found_apart(site: Site, dispute: Dispute) -> tuple[FoundApart, ...]:
    """Judge both sides of a dispute about a round, and give what is found differently.

    The gravest comes first. Of anything but rounds, and their sign-offs, nothing is judged.
    """
    left, right = (_worst_by_check(site, it) for it in (dispute.left, dispute.right))
    pairs = ((left.get(it), right.get(it)) for it in dict.fromkeys((*left, *right)))
    apart = (it for it in pairs if _said(it[0]) != _said(it[1]))
    return tuple(sorted(apart, key=_gravity, reverse=True))


def _worst_by_check(site: Site, side: Entry) -> dict[str, Finding]:
    signed = None
    seen: Entry | None = side
    if side.kind == "sign_off":
        signed = known_by(site, side, SignOff.model_validate(dict(side.body)))
        seen = site.store.ledger.get(signed.body.round_revision)
    if seen is None or seen.kind != "round":
        return {}
    known = known_by(site, seen, Round.model_validate(dict(seen.body)))
    found = assess(judged_bundle(site, known, signed, site.now())).findings
    worst: dict[str, Finding] = {}
    for it in found:
        if it.title not in worst or it.verdict.gravity > worst[it.title].verdict.gravity:
            worst[it.title] = it
    return worst


def _said(finding: Finding | None) -> object:
    return finding and (finding.verdict, finding.measured, finding.places)


def _gravity(apart: FoundApart) -> int:
    return max(it.verdict.gravity for it in apart if it is not None)


def _what(site: Site, entry: Entry) -> str:
    """Name the thing: the round by number and heading, others by kind and name."""
    if entry.kind == "sign_off":
        signed = site.store.ledger.get(str(entry.body["round_revision"]))
        return f"decision on {_what(site, signed)}" if signed else "decision on a round"
    kind = CALLED.get(entry.kind, entry.kind.replace("_", " "))
    at_m = entry.body.get("from_m") or entry.body.get("chainage_m")
    if at_m and entry.kind in ("damage", "rehab"):
        kind = f"{kind} at {at_m} m"
    named = entry.body.get("number") or entry.body.get("name") or entry.body.get("label")
    words = f"{kind} {named}" if named else kind
    place = entry.body.get("heading")
    return f"{words}, {heading(site, str(place)).body.name}" if place else words
