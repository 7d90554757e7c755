"""Batches of bolts, resin and mesh, and the rounds that a bad one puts in doubt."""

from dataclasses import dataclass
from datetime import timedelta

from fieldapp.work.known import Known, current
from fieldapp.work.site import Session, Site
from fieldapp.work.writing import state
from schemas.bodies.batch import Batch
from schemas.bodies.round import Round
from schemas.trouble import BadInput

ENGINEER_DECIDES_WITHIN = timedelta(hours=24)


@dataclass(eq=False)
class NoSuchBatch(BadInput):
    """No batch has that label."""

    label: str

    happened = "No batch is labelled {label}."
    kept = "Nothing was changed."
    do_next = "Look at the label once more, or enter the batch: lastrow batch add."


def batches(site: Site) -> tuple[Batch, ...]:
    """Give every batch delivered, the newest first."""
    known = current(site, "batch", Batch)
    return tuple(it.body for it in reversed(known))


def add_batch(site: Site, batch: Batch, session: Session) -> Known[Batch]:
    """Enter a batch as its label says."""
    return Known(state(site, "batch", batch, author=session.person_id), batch)


def doubt_batch(site: Site, label: str, session: Session, *, reason: str) -> Known[Batch]:
    """Put a batch in doubt: an engineer decides within 24 hours. It closes no heading.

    Raises
    ------
    NoSuchBatch
        No batch has that label.
    """
    known = _labelled(site, label)
    decide_by = site.now() + ENGINEER_DECIDES_WITHIN
    changes = {"in_doubt": True, "reason": reason, "decide_by": decide_by}
    body = known.body.model_copy(update=changes)
    parents = (known.entry.revision,)
    entry = state(
        site, "batch", body, author=session.person_id, thing_id=known.id, parents=parents
    )
    return Known(entry, body)


def _labelled(site: Site, label: str) -> Known[Batch]:
    for known in current(site, "batch", Batch):
        if known.body.label == label:
            return known
    raise NoSuchBatch(label)


def in_doubt(site: Site, seen: Round) -> tuple[str, ...]:
    """Give the doubtful batches that a round used."""
    used = set(seen.bolter.batches or ())
    return tuple(it.label for it in batches(site) if it.in_doubt and it.label in used)


def rounds_in_doubt(site: Site) -> tuple[Known[Round], ...]:
    """Give every round that used a doubtful batch."""
    return tuple(it for it in current(site, "round", Round) if in_doubt(site, it.body))
