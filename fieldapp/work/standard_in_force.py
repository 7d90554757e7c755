"""The support standard: adopting a revision, and which one is in force when."""

from dataclasses import dataclass
from datetime import datetime

from fieldapp.assess.standard_check import refusals
from fieldapp.work.known import Known, current
from fieldapp.work.people import still_enrolled
from fieldapp.work.roles import require
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.writing import state
from schemas.standard import Standard
from schemas.trouble import BadInput, NotAllowed


@dataclass(eq=False)
class NoStandard(NotAllowed):
    """No standard is in force."""

    mine: str

    happened = "No support standard is in force at {mine}."
    kept = "Everything that was recorded is kept."
    do_next = "A geotechnical engineer adopts one: lastrow standard adopt FILE --as PERSON."


@dataclass(eq=False)
class StandardRefused(BadInput):
    """A standard contradicts itself or leaves something out."""

    name: str
    path: str
    reason: str

    happened = "The standard {name} is refused: at {path}, {reason}."
    kept = "The standard in force stays in force."
    do_next = "Put right what stands at {path}, then adopt it again."


@dataclass(eq=False)
class OlderRevision(NotAllowed):
    """A revision is not newer than the one already adopted."""

    name: str
    newest: str

    happened = "{name} is not newer than {newest}, which has been adopted already."
    kept = "{newest} stays as it is."
    do_next = "Give the new revision the next number, then adopt it again."


@dataclass(eq=False)
class OtherMine(NotAllowed):
    """A standard is another mine's, or the demo's."""

    name: str
    theirs: str
    mine: str

    happened = "{name} is the standard of {theirs}, not of {mine}."
    kept = "The standard in force stays in force."
    do_next = "Adopt the standard that the geotechnical engineer of {mine} approved."


def adopt(site: Site, standard: Standard, session: Session) -> Known[Standard]:
    """Put a revision in force from its date.

    Raises
    ------
    NotAllowed
        The person is no geotechnical engineer, the revision is not newer, or the standard is
        another mine's or the demo's.
    StandardRefused
        It contradicts itself; names the path and the reason of the first thing.
    """
    require(still_enrolled(site, session), "geotechnical engineer", act="adopt a standard")
    if standard.mine != site.mine.name or standard.demo != site.mine.demo:
        theirs = f"{standard.mine} (demo)" if standard.demo else standard.mine
        raise OtherMine(standard.name, theirs, site.mine.name)
    for refusal in refusals(standard):
        raise StandardRefused(standard.name, refusal.path, refusal.reason)
    revisions = [known for known in adopted(site) if known.body.code == standard.code]
    newest = max(revisions, key=lambda known: known.body.revision, default=None)
    if newest is not None and newest.body.revision >= standard.revision:
        raise OlderRevision(standard.name, newest.body.name)
    entry = state(site, "standard", standard, author=session.person_id)
    return Known(entry, standard)


def adopted(site: Sight) -> tuple[Known[Standard], ...]:
    """Give every revision adopted here."""
    return current(site, "standard", Standard)


def in_force(site: Sight, at: datetime) -> Known[Standard]:
    """Give the revision in force at a time: of those effective by then, the newest.

    A newer revision replaces an older one of its code also where it bears an earlier date. Of
    two standards, the one effective last is in force.

    Raises
    ------
    NoStandard
        None is in force then.
    """
    effective = [known for known in adopted(site) if known.body.effective_from <= at]
    if not effective:
        raise NoStandard(site.mine.name)
    newest: dict[str, Known[Standard]] = {}
    for known in sorted(effective, key=_age):
        newest[known.body.code] = known
    return max(newest.values(), key=lambda known: (known.body.effective_from, *_age(known)))


def revision_in_force(site: Site) -> str | None:
    """Give the revision hash of the standard in force now; None where there is none."""
    try:
        return in_force(site, site.now()).entry.revision
    except NoStandard:
        return None


def standard_at(site: Sight, at: datetime) -> Standard | None:
    """Give the standard in force at a time; None where there was none."""
    try:
        return in_force(site, at).body
    except NoStandard:
        return None


def _age(known: Known[Standard]) -> tuple[int, datetime, str]:
    """Order revisions; two of one number, adopted apart, alike on every tablet."""
    return known.body.revision, known.body.effective_from, known.entry.revision


def of_revision(site: Sight, revision: str) -> Known[Standard] | None:
    """Give the standard of that revision hash, also one no longer in force."""
    return next((known for known in adopted(site) if known.entry.revision == revision), None)
