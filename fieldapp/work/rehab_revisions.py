"""The revisions of a repair: which one stands, and what is written after it."""

from collections.abc import Mapping, Sequence

from fieldapp.work.called import is_called
from fieldapp.work.known import Known, current, one
from fieldapp.work.rehab_troubles import NoSuchRehab, NotInThatState
from fieldapp.work.site import Session, Site
from fieldapp.work.writing import written
from schemas.bodies.rehab import Rehab, RehabState
from schemas.entry import Entry

_STRICTNESS: dict[RehabState, int] = {
    "verified": 0,
    "planned": 1,
    "in hand": 2,
    "done": 2,
    "refused": 2,
    "reopened": 3,
}


def rehab_known(site: Site, name: str) -> Known[Rehab]:
    """Find a repair by its id or short id; the strictest where two revisions stand.

    Raises
    ------
    NoSuchRehab
        Nothing, or more than one repair, is known so.
    """
    ids = {it.id for it in current(site, "rehab", Rehab) if is_called(it.id, name)}
    if len(ids) != 1:
        raise NoSuchRehab(name)
    return strictest_of(one(site, "rehab", Rehab, ids.pop()))


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
