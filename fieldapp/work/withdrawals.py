"""Withdrawing what was stated by mistake: it is void from then on, and kept with the reason."""

from dataclasses import dataclass

from fieldapp.work.authority import counting
from fieldapp.work.known import Known
from fieldapp.work.people import still_enrolled
from fieldapp.work.site import Session, Site
from fieldapp.work.writing import written
from schemas.bodies.withdrawal import Withdrawal
from schemas.trouble import BadInput, NotAllowed


@dataclass(eq=False)
class NoSuchEntry(BadInput):
    """Nothing of that revision is known."""

    revision: str

    happened = "Nothing recorded here has the revision {revision}."
    kept = "Nothing was changed."
    do_next = "Look at the revision once more: lastrow export shows every one."


@dataclass(eq=False)
class NotYoursToWithdraw(NotAllowed):
    """A person stands below whoever stated it, or it is nothing that is withdrawn."""

    person: str
    kind: str

    happened = "{person} may not withdraw this {kind}."
    kept = "It stands as it was stated."
    do_next = "Ask the role that stated it, or a higher one; people are revoked, not withdrawn."


def withdraw(site: Site, revision: str, session: Session, *, reason: str) -> Known[Withdrawal]:
    """Declare one revision void: the one before it stands again, if there is any.

    Raises
    ------
    NoSuchEntry
        Nothing here has that revision.
    NotYoursToWithdraw
        It was stated in a higher role, or below a shift supervisor nobody withdraws it.
    """
    session = still_enrolled(site, session)
    void = site.store.ledger.get(revision)
    if void is None:
        raise NoSuchEntry(revision)
    body = Withdrawal(thing=void.id, revision=revision, reason=reason)
    entry = written(site, "withdrawal", body, author=session.person_id)
    if not counting(site).may_withdraw(entry):
        raise NotYoursToWithdraw(session.name, void.kind.replace("_", " "))
    site.store.ledger.add([entry])
    return Known(entry, body)
