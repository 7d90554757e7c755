"""The revisions of a repair: which one stands, and what is written after it."""

from collections.abc import Mapping, Sequence

from fieldapp.work.called import called, is_called
from fieldapp.work.known import Known, current, one
from fieldapp.work.rehab.troubles import NoSuchRehab, NotInThatState, SeveralRehabs
from fieldapp.work.site import Session, Site
from fieldapp.work.writing import written
from schemas.bodies.damage import Damage
from schemas.bodies.rehab import Rehab, RehabState
from schemas.entry import Entry

_STRICTNESS: dict[RehabState, int] = {
    "verified": 0,
    "planned": 1,
    "proposed": 2,
    "in hand": 3,
    "done": 3,
    "refused": 3,
    "reopened": 4,
}


def rehab_known(site: Site, name: str) -> Known[Rehab]:
    """Find a repair by its id or short id, or by those of damage that it repairs.

    Of several repairs of one damage the one that is not verified yet is meant; of two revisions
    that stand side by side the strictest is given.

    Raises
    ------
    NoSuchRehab
        No repair is known so.
    SeveralRehabs
        More than one is.
    """
    known = current(site, "rehab", Rehab)
    named = {it.id: it for it in known if is_called(it.id, name)} or _of_damage(site, known, name)
    waiting = [it for it in named.values() if it.body.state != "verified"]
    found = waiting or list(named.values())
    if not found:
        raise NoSuchRehab(name)
    if len(found) > 1:
        raise SeveralRehabs(name, ", ".join(f"{called(it.id)} ({it.body.state})" for it in found))
    return strictest_of(one(site, "rehab", Rehab, found[0].id))


def _of_damage(site: Site, repairs: Sequence[Known[Rehab]], name: str) -> dict[str, Known[Rehab]]:
    seen = (it for it in current(site, "damage", Damage) if is_called(it.id, name))
    meant = {it.body.again or it.id for it in seen}
    return {it.id: it for it in repairs if meant & set(it.body.damages)}


def strictest_of(heads: Sequence[Known[Rehab]]) -> Known[Rehab]:
    """Give the strictest of the revisions of one repair that stand side by side."""
    return max(heads, key=lambda it: _STRICTNESS[it.body.state])


def standing(site: Site, rehab_id: str, act: str, *states: RehabState) -> Known[Rehab]:
    """Give a repair that is in one of the states from which an act leads on.

    Raises
    ------
    NotInThatState
        It is in another.
    """
    known = rehab_known(site, rehab_id)
    if known.body.state not in states:
        raise NotInThatState(act, known.body.state)
    return known


def anew(rehab: Rehab, said: Mapping[str, object]) -> Rehab:
    """Give the next revision; a signature is of one revision alone."""
    unsigned = {"public_key": None, "signature": None, "barrier_down": None, "covers": ()}
    return rehab.model_copy(update={**unsigned, **said})


def kept(
    site: Site, rehab: Rehab, session: Session | None, before: Known[Rehab] | None
) -> Known[Rehab]:
    """Keep a repair, or its next revision, durably before this returns."""
    entry = entry_of(site, rehab, session, before)
    site.store.ledger.add([entry])
    return Known(entry, rehab)


def entry_of(
    site: Site, rehab: Rehab, session: Session | None, before: Known[Rehab] | None
) -> Entry:
    """Write a repair, or its next revision, without keeping it yet."""
    author = session.person_id if session else None
    if before is None:
        return written(site, "rehab", rehab, author=author)
    heads = one(site, "rehab", Rehab, before.id)
    parents = tuple(it.entry.revision for it in heads)
    return written(site, "rehab", rehab, author=author, thing_id=before.id, parents=parents)
