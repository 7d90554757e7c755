"""What a recorded round is judged by: a standard, the round before it, and a time."""

from collections.abc import Iterator
from datetime import datetime

from fieldapp.work.deviations import granted_for
from fieldapp.work.headings import heading
from fieldapp.work.inspections import shaken_by
from fieldapp.work.known import Known, known_by
from fieldapp.work.round_ends import beside
from fieldapp.work.rounds import round_before, rounds
from fieldapp.work.site import Sight
from fieldapp.work.standard_in_force import in_force, of_revision, of_round_before
from schemas.bodies.event import Event
from schemas.bodies.round import Round
from schemas.bodies.sign_off import SignOff
from schemas.bundle import Bundle
from schemas.standard import Standard


def judged_bundle(
    site: Sight, seen: Known[Round], signed: Known[SignOff] | None, now: datetime
) -> Bundle:
    """Give what a recorded round was judged by, at the time of its sign-off; else as it is now."""
    standard = of_revision(site, seen.body.standard) or in_force(site, now)
    bundle = bundle_of(site, seen, standard, signed.body.judged_at if signed else now)
    events = _known_when(site, signed) if signed else shaken_by(site, seen.body.heading, now)
    shaken = tuple(it.by_chainages_of(seen.chaining.since) for it in events)
    return bundle.model_copy(update={"shaken_by": shaken})


def _known_when(site: Sight, signed: Known[SignOff]) -> Iterator[Known[Event]]:
    """Yield the events that its signer was shown, whatever was heard of since."""
    for revision in signed.body.shaken_by:
        entry = site.store.ledger.get(revision)
        if entry is not None:
            yield known_by(site, entry, Event.model_validate(dict(entry.body)))


def bundle_of(
    site: Sight, seen: Known[Round], standard: Known[Standard], as_at: datetime
) -> Bundle:
    """Give everything that assessing a recorded round needs, by the chainages of its day."""
    before = round_before(rounds(site, seen.body.heading), seen.id, seen.body)
    return Bundle(
        heading=heading(site, seen.body.heading).by_chainages_of(seen.chaining.since),
        standard=standard.body,
        standard_line=standard.entry.line.decode(),
        previous_round=beside(before, seen.chaining, seen.read.joint_m) if before else None,
        previous_standard=of_round_before(site, before, standard),
        round_id=seen.id,
        round=seen.read,
        as_at=as_at,
        deviations=granted_for(site, seen.id),
    )
