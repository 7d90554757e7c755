"""The sign-offs of a round: which count, which do not and why."""

from collections.abc import Iterable, Sequence

from fieldapp.work.authority import counting
from fieldapp.work.known import Known, stated
from fieldapp.work.signatures import why_not_believed
from fieldapp.work.site import Site
from schemas.bodies.round import Round
from schemas.bodies.sign_off import Decision, SignOff

STRICTEST: tuple[Decision, ...] = ("accepted", "sent back", "barricaded")


def sign_offs(site: Site, round_id: str) -> tuple[Known[SignOff], ...]:
    """Give every sign-off of a round that nobody withdrew, whoever signed it."""
    return stated(site, "sign_off", SignOff, round=round_id)


def believed(site: Site, signed: Iterable[Known[SignOff]]) -> tuple[Known[SignOff], ...]:
    """Give those that are signed by who may; what a stranger or an editor wrote is no sign-off."""
    people = counting(site).roster
    return tuple(
        it for it in signed if not it.entry.read_only and not why_not_believed(people, it.entry)
    )


def not_believed(site: Site, signed: Iterable[Known[SignOff]]) -> tuple[str, ...]:
    """Say of each sign-off that counts as none why it does not."""
    people = counting(site).roster
    return tuple(filter(None, (why_not_believed(people, it.entry) for it in signed)))


def standing(site: Site, heads: Sequence[Known[Round]]) -> tuple[Known[SignOff], ...]:
    """Give the sign-offs of a round's current revisions; older ones signed something else."""
    return of_revisions(believed(site, sign_offs(site, heads[0].id)), heads)


def of_revisions(
    signed: Iterable[Known[SignOff]], heads: Iterable[Known[Round]]
) -> tuple[Known[SignOff], ...]:
    """Give those that signed one of these very revisions."""
    revisions = {head.entry.revision for head in heads}
    return tuple(it for it in signed if it.body.round_revision in revisions)


def strictest(signed: Iterable[Known[SignOff]]) -> Decision | None:
    """Give the strictest decision; None where nobody has signed."""
    decisions = {it.body.decision for it in signed}
    return max(decisions, key=STRICTEST.index, default=None)
