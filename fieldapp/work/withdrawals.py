"""Withdrawing what was stated by mistake: it is void from then on, and kept with the reason."""

from collections.abc import Iterable
from dataclasses import dataclass

from fieldapp.work.authority import counting
from fieldapp.work.known import Known
from fieldapp.work.people import still_enrolled
from fieldapp.work.site import Session, Site
from fieldapp.work.writing import written
from schemas.bodies.withdrawal import Withdrawal
from schemas.entry import Entry
from schemas.trouble import BadInput, NotAllowed


@dataclass(eq=False)
class NoSuchEntry(BadInput):
    """Nothing of that revision is known."""

    revision: str

    happened = "Nothing recorded here has the revision {revision}."
    kept = "Nothing was changed."
    do_next = "Look at the revision once more: lastrow export shows every one."


@dataclass(eq=False)
class SeveralEntries(BadInput):
    """A name fits more than one current entry."""

    name: str
    several: str

    happened = "More than one entry is meant by {name}: {several}."
    kept = "Nothing was changed."
    do_next = "Name one of them by its revision."


@dataclass(eq=False)
class VoidAlready(BadInput):
    """What is to be withdrawn was withdrawn before."""

    kind: str

    happened = "This {kind} was withdrawn already."
    kept = "Nothing was changed."
    do_next = "Nothing is to be done; state it anew where it was right after all."


@dataclass(eq=False)
class NotYoursToWithdraw(NotAllowed):
    """A person stands below whoever stated it, or it is nothing that is withdrawn."""

    person: str
    kind: str

    happened = "{person} may not withdraw this {kind}."
    kept = "It stands as it was stated."
    do_next = "Ask the role that stated it, or a higher one; people are revoked, not withdrawn."


LEAST_OF_A_REVISION = 8
"""So many of its first characters name a revision, where only one begins with them."""


def entry_named(site: Site, name: str) -> Entry:
    """Find an entry by its revision, the beginning of it, or the id of what it is about.

    Raises
    ------
    NoSuchEntry
        Nothing here is named so.
    SeveralEntries
        More than one current entry is.
    """
    found = site.store.ledger.get(name)
    if found is not None:
        return found
    current = _current(site.store.ledger.of_thing(name), counting(site).withdrawn)
    begin = (it for it in site.store.ledger.all() if it.revision.startswith(name))
    begins = [it for it in begin if site.store.ledger.get(it.revision)]
    several = current or (begins if len(name) >= LEAST_OF_A_REVISION else [])
    if len(several) > 1:
        raise SeveralEntries(name, ", ".join(it.revision for it in several))
    if not several:
        raise NoSuchEntry(name)
    return several[0]


def _current(revisions: Iterable[Entry], void: frozenset[str]) -> list[Entry]:
    standing = [it for it in revisions if it.revision not in void]
    older = {parent for it in standing for parent in it.parents}
    return [it for it in standing if it.revision not in older]


def withdraw(site: Site, revision: str, session: Session, *, reason: str) -> Known[Withdrawal]:
    """Declare one revision void: the one before it stands again, if there is any.

    Raises
    ------
    NoSuchEntry
        Nothing here has that revision.
    NotYoursToWithdraw
        It was stated in a higher role, or below a shift supervisor nobody withdraws it.
    VoidAlready
        Somebody withdrew it before.
    """
    session = still_enrolled(site, session)
    void = site.store.ledger.get(revision)
    if void is None:
        raise NoSuchEntry(revision)
    if revision in counting(site).withdrawn:
        raise VoidAlready(void.kind.replace("_", " "))
    body = Withdrawal(thing=void.id, revision=revision, reason=reason)
    entry = written(site, "withdrawal", body, author=session.person_id)
    if not counting(site).may_withdraw(entry):
        raise NotYoursToWithdraw(session.name, void.kind.replace("_", " "))
    site.store.ledger.add([entry])
    return Known(entry, body)
