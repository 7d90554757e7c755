"""Batches of bolts, resin and mesh, and the rounds that a bad one puts in doubt."""

from datetime import timedelta

from fieldapp.work.known import Known, current
from fieldapp.work.site import Session, Site
from fieldapp.work.writing import state
from schemas.bodies.batch import Batch
from schemas.bodies.round import Round

ENGINEER_DECIDES_WITHIN = timedelta(hours=24)


def batches(site: Site) -> tuple[Batch, ...]:
    """Give every batch delivered, the newest first."""
    known = current(site, "batch", Batch)
    return tuple(it.body for it in reversed(known))


def add_batch(site: Site, batch: Batch, session: Session) -> Known[Batch]:
    """Enter a batch as its label says."""
    return Known(state(site, "batch", batch, author=session.person_id), batch)


def doubt_batch(site: Site, label: str, session: Session, *, reason: str) -> Known[Batch]:
    """Put a batch in doubt: an engineer decides within 24 hours. It closes no heading."""
    known = next(it for it in current(site, "batch", Batch) if it.body.label == label)
    decide_by = site.now() + ENGINEER_DECIDES_WITHIN
    changes = {"in_doubt": True, "reason": reason, "decide_by": decide_by}
    body = known.body.model_copy(update=changes)
    parents = (known.entry.revision,)
    entry = state(
        site, "batch", body, author=session.person_id, thing_id=known.id, parents=parents
    )
    return Known(entry, body)


def in_doubt(site: Site, seen: Round) -> tuple[str, ...]:
    """Give the doubtful batches that a round used."""
    used = set(seen.bolter.batches or ())
    return tuple(it.label for it in batches(site) if it.in_doubt and it.label in used)


def rounds_in_doubt(site: Site) -> tuple[Known[Round], ...]:
    """Give every round that used a doubtful batch."""
    return tuple(it for it in current(site, "round", Round) if in_doubt(site, it.body))
