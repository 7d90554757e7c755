"""Batches of bolts, resin and mesh, and the rounds that a bad one puts in doubt."""

from collections.abc import Sequence, Set
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal
from zoneinfo import ZoneInfo

from fieldapp.assess.entry.doubts import Doubt, doubts_among
from fieldapp.assess.entry.facts import BatchInDoubt
from fieldapp.work.authority import ENGINEER
from fieldapp.work.known import Known, current, parents_over
from fieldapp.work.people import still_enrolled
from fieldapp.work.roles import require
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.writing import state, written
from schemas.bodies.batch import Batch
from schemas.bodies.round import Round
from schemas.entry import Entry
from schemas.trouble import BadInput

EngineersDecision = Literal["cleared", "kept"]
ENGINEER_DECIDES_WITHIN = timedelta(hours=24)


@dataclass(eq=False)
class NoSuchBatch(BadInput):
    """No batch has that label."""

    label: str

    happened = "No batch is labelled {label}."
    kept = "Nothing was changed."
    do_next = "Look at the label once more, or enter the batch: lastrow batch add."


@dataclass(eq=False)
class NotInDoubt(BadInput):
    """There is nothing to decide on."""

    label: str

    happened = "Nobody has put batch {label} in doubt."
    kept = "Nothing was changed."
    do_next = "Look at the label once more: lastrow batch list shows every batch."


@dataclass(eq=False)
class NoReasonSaid(BadInput):
    """A doubt or a decision says nothing to whoever hears of it."""

    label: str

    happened = "Nothing is said of why it is so with batch {label}."
    kept = "Nothing was changed; what was said of it before stands."
    do_next = "Say in a few words why: others go by it."


def batches(site: Sight) -> tuple[Batch, ...]:
    """Give every batch delivered, the newest first."""
    known = current(site, "batch", Batch)
    return tuple(it.body for it in reversed(known))


def no_batch_of(batch: Batch, bolt_type: str | None) -> str | None:
    """Say why a bolt of a type can't be of a batch: "WM-0027 is a batch of mesh"; None: it can."""
    if batch.of == "mesh":
        return f"{batch.label} is a batch of mesh"
    if batch.of == "resin" or None in (batch.bolt_type, bolt_type) or batch.bolt_type == bolt_type:
        return None
    return f"{batch.label} is a batch of {batch.bolt_type}, not of {bolt_type}"


def labels_for(entered: Sequence[Batch], bolt_type: str | None, used: Set[str]) -> tuple[str, ...]:
    """Give the batches that a bolt can be of: of those that its round used, else every bolts'."""
    others = {it.label for it in entered if no_batch_of(it, bolt_type)}
    bolts = (it.label for it in entered if it.of == "bolts" and it.label not in others)
    return tuple(sorted(used - others) if used else dict.fromkeys(bolts))


def add_batch(site: Site, batch: Batch, session: Session) -> Known[Batch]:
    """Enter a batch as its label says."""
    return Known(state(site, "batch", batch, author=session.person_id), batch)


def doubt_batch(site: Site, label: str, session: Session, *, reason: str) -> Known[Batch]:
    """Put a batch in doubt: an engineer decides within 24 hours. It closes no heading.

    Raises
    ------
    NoSuchBatch, NoReasonSaid
        As for `doubt_entry`.
    """
    entry = doubt_entry(site, label, session, reason=reason)
    site.store.ledger.add([entry])
    return Known(entry, Batch.model_validate(dict(entry.body)))


def doubt_entry(
    site: Site, label: str, session: Session, *, reason: str, after: Entry | None = None
) -> Entry:
    """Write the doubt without keeping it yet, in one step with the entry `after` which it comes.

    Raises
    ------
    NoSuchBatch
        No batch has that label.
    NoReasonSaid
        The reason is empty.
    """
    decide_by = site.now() + ENGINEER_DECIDES_WITHIN
    why = _said(label, reason)
    said: dict[str, object] = {"in_doubt": True, "reason": why, "decide_by": decide_by}
    undecided: dict[str, object] = {"decided": None, "decided_because": None}
    known = _labelled(site, label)
    heads = [it for it in known if it.id == known[-1].id]
    return _restated(site, heads, session, said | undecided, after)


def decide_batch(
    site: Site, label: str, session: Session, *, decision: EngineersDecision, reason: str
) -> Known[Batch]:
    """Decide on a batch in doubt, as its engineer: clear it, or keep it in doubt.

    Raises
    ------
    NoSuchBatch
        No batch has that label.
    NotInDoubt
        Nobody has put it in doubt.
    NotYours
        The person is no geotechnical engineer.
    NoReasonSaid
        The reason is empty.
    """
    session = still_enrolled(site, session)
    require(session, *ENGINEER, act="decide on a batch in doubt")
    doubted = [it for it in _labelled(site, label) if it.body.in_doubt]
    if not doubted:
        raise NotInDoubt(label)
    changes: dict[str, object] = {
        "in_doubt": decision == "kept",
        "decided": decision,
        "decided_because": _said(label, reason),
    }
    by_id = {it.id: [one for one in doubted if one.id == it.id] for it in doubted}
    entries: list[Entry] = []
    for heads in by_id.values():
        before = entries[-1] if entries else None
        entries.append(_restated(site, heads, session, changes, before))
    site.store.ledger.add(entries)
    return Known(entries[-1], Batch.model_validate(dict(entries[-1].body)))


def _said(label: str, reason: str) -> str:
    if not reason.strip():
        raise NoReasonSaid(label)
    return reason


def _restated(
    site: Site,
    heads: list[Known[Batch]],
    session: Session,
    changes: dict[str, object],
    after: Entry | None,
) -> Entry:
    """Write a batch anew, over every revision of it that stands."""
    body = heads[-1].body.model_copy(update=changes)
    return written(
        site,
        "batch",
        body,
        author=session.person_id,
        thing_id=heads[-1].id,
        parents=parents_over(site, heads),
        after=after,
    )


def _labelled(site: Site, label: str) -> list[Known[Batch]]:
    """Give what stands of a label; the same label may have been entered more than once."""
    found = [it for it in current(site, "batch", Batch) if it.body.label == label]
    if not found:
        raise NoSuchBatch(label)
    return found


def in_doubt(site: Sight) -> tuple[BatchInDoubt, ...]:
    """Give every doubtful batch, each once; why is the engineer's word as soon as there is one."""
    found = {
        it.label: BatchInDoubt(
            it.label, it.decided_because or it.reason, it.decide_by, kept=it.decided == "kept"
        )
        for it in batches(site)
        if it.in_doubt
    }
    return tuple(found.values())


def batches_in_doubt(site: Sight, seen: Round) -> tuple[BatchInDoubt, ...]:
    """Give the doubtful batches that a round used."""
    return tuple(it for it in in_doubt(site) if it.label in (seen.bolter.batches or ()))


def doubts_of_round(site: Sight, seen: Round, at: datetime) -> tuple[Doubt, ...]:
    """Give the doubtful batches that a round used, and who decides on each, in words."""
    same = (seen.over is not None, seen.number)
    used = ((same, batch) for batch in batches_in_doubt(site, seen))
    return doubts_among(used, at.astimezone(ZoneInfo(site.settings.zone)))


def rounds_of_batch(site: Sight, label: str) -> tuple[Known[Round], ...]:
    """Give every round that used a batch."""
    return tuple(
        it for it in current(site, "round", Round) if label in (it.body.bolter.batches or ())
    )
