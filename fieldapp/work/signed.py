"""The sign-offs of a round: which count, which do not and why."""

from collections.abc import Iterable, Sequence

from fieldapp.work.authority import Counting, Which, counting
from fieldapp.work.known import Known, stated
from fieldapp.work.signatures import why_not_believed
from fieldapp.work.site import Sight
from schemas.bodies.round import Round
from schemas.bodies.sign_off import Decision, SignOff
from schemas.entry import Entry

STRICTEST: tuple[Decision, ...] = ("accepted", "sent back", "barricaded")


def sign_offs(site: Sight, round_id: str) -> tuple[Known[SignOff], ...]:
    """Give every sign-off of a round that nobody withdrew, whoever signed it."""
    return stated(site, "sign_off", SignOff, round=round_id)


def believed(site: Sight, signed: Iterable[Known[SignOff]]) -> tuple[Known[SignOff], ...]:
    """Give those that are signed by who may; what a stranger or an editor wrote is no sign-off."""
    return tuple(it for it in signed if not it.entry.read_only and not _why_not(site, it))


def not_believed(site: Sight, signed: Iterable[Known[SignOff]]) -> tuple[str, ...]:
    """Say of each sign-off that counts as none why it does not."""
    return tuple(filter(None, (_why_not(site, it) for it in signed)))


def _why_not(site: Sight, signed: Known[SignOff]) -> str | None:
    """Say why a sign-off counts as none. What makes entry stricter, installers may say too."""
    if signed.body.decision == "accepted" and signed.entry.author in _installers(site, signed):
        return "the signer installed it"
    return why_not_believed(counting(site).roster, signed.entry)


def _installers(site: Sight, signed: Known[SignOff]) -> frozenset[str]:
    """Give who the round that was signed says installed it."""
    known, heading = counting(site), signed.body.heading
    here = known.remembered(("installed", heading), lambda: _installed(known, heading))
    if signed.body.round_revision in here:
        return here[signed.body.round_revision]
    seen = site.store.ledger.get(signed.body.round_revision)
    return _installed_by(seen) if seen else frozenset()


def _installed(known: Counting, heading: str) -> dict[str, frozenset[str]]:
    rounds = known.revisions(Which("round", named="heading", name=heading))
    return {it.revision: _installed_by(it) for it in rounds}


def _installed_by(seen: Entry) -> frozenset[str]:
    named = seen.body.get("installed_by")
    return frozenset(map(str, named)) if isinstance(named, list) else frozenset()


def standing(site: Sight, heads: Sequence[Known[Round]]) -> tuple[Known[SignOff], ...]:
    """Give the sign-offs of a round's current revisions; older ones signed something else."""
    return of_revisions(believed(site, sign_offs(site, heads[0].id)), heads)


def deciding(site: Sight, seen: Known[Round]) -> Known[SignOff] | None:
    """Give the sign-off of a round that counts: the strictest where several do, none forged."""
    signed = standing(site, [seen])
    return max(signed, key=lambda it: STRICTEST.index(it.body.decision), default=None)


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
