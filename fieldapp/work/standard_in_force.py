"""The support standard: adopting a revision, and which one is in force when."""

from dataclasses import dataclass
from datetime import datetime

from fieldapp.assess.standard_check import refusals
from fieldapp.work.known import Known, current
from fieldapp.work.own_keys import key_with
from fieldapp.work.people import person, still_enrolled
from fieldapp.work.roles import require
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.writing import written
from schemas.bodies.round import Round
from schemas.entry import Entry
from schemas.signatures import sign
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


def adopt(
    site: Site, standard: Standard, session: Session, code: str | None = None
) -> Known[Standard]:
    """Put a revision in force from its date; with the sign code, signed by the engineer's key.

    Raises
    ------
    NotAllowed, StandardRefused
        As for `adoption`.
    """
    entry, body = adoption(site, standard, session, code)
    site.store.ledger.add([entry])
    return Known(entry, body)


def adoption(
    site: Site, standard: Standard, session: Session, code: str | None = None
) -> tuple[Entry, Standard]:
    """Write that a revision is put in force, without keeping it yet.

    Raises
    ------
    NotAllowed
        The person is no geotechnical engineer, the revision is not newer, the standard is
        another mine's or the demo's, or the sign code is wrong or is to wait.
    StandardRefused
        It contradicts itself; names the path and the reason of the first thing.
    """
    require(still_enrolled(site, session), "geotechnical engineer", act="adopt a standard")
    if standard.mine != site.mine.name or standard.demo != site.mine.demo:
        theirs = f"{standard.mine} (demo)" if standard.demo else standard.mine
        raise OtherMine(standard.name, theirs, site.mine.name)
    for refusal in refusals(standard):
        raise StandardRefused(standard.name, refusal.path, refusal.reason)
    _refuse_older(site, standard)
    unsigned = standard.model_copy(update={"public_key": None, "signature": None})
    if code is None:
        return written(site, "standard", unsigned, author=session.person_id), unsigned
    key = key_with(site, person(site, session.person_id), code)
    named = unsigned.model_copy(update={"public_key": key.public_key})
    entry = sign(written(site, "standard", named, author=session.person_id), key)
    return entry, Standard.model_validate(dict(entry.body))


def _refuse_older(site: Site, standard: Standard) -> None:
    revisions = [known for known in adopted(site) if known.body.code == standard.code]
    newest = max(revisions, key=lambda known: known.body.revision, default=None)
    if newest is not None and newest.body.revision >= standard.revision:
        raise OlderRevision(standard.name, newest.body.name)


def adopted(site: Sight) -> tuple[Known[Standard], ...]:
    """Give every revision adopted here."""
    return current(site, "standard", Standard)


def replaced_from_its_first_day(site: Sight, standard: Standard) -> tuple[Standard, ...]:
    """Give the older revisions that a newer one leaves no day, since it bears no later date.

    It may be meant, as where a revision bore a wrong day; whoever adopts one is told.
    """
    older = (it.body for it in adopted(site) if it.body.code == standard.code)
    return tuple(
        it
        for it in older
        if it.revision < standard.revision and it.effective_from >= standard.effective_from
    )


def to_come(site: Sight, at: datetime) -> Known[Standard] | None:
    """Give the adopted revision that comes into force next after a time; None: none does."""
    later = (it for it in adopted(site) if it.body.effective_from > at)
    return min(later, key=lambda it: it.body.effective_from, default=None)


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


def of_round_before(
    site: Sight, before: Known[Round] | None, standard: Known[Standard]
) -> Standard | None:
    """Give the revision that the round before was judged by; None where it is the same one."""
    if before is None or before.body.standard == standard.entry.revision:
        return None
    shown = of_revision(site, before.body.standard)
    return shown.body if shown else None
