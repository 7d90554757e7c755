"""Signing a new revision: from its date on it is what rounds are judged by."""

from dataclasses import dataclass
from datetime import datetime

from fieldapp.assess.times import time_words
from fieldapp.work.known import Known
from fieldapp.work.site import Session, Site
from fieldapp.work.standard_editing.editing import StandardWork
from fieldapp.work.standard_in_force import adoption
from schemas.reading import Refused
from schemas.reasons import as_typed
from schemas.standard import Standard
from schemas.trouble import NotAllowed


@dataclass(eq=False)
class NotYetSound(NotAllowed):
    """A new revision lacks something or contradicts itself."""

    path: str
    reason: str

    happened = "The new revision can't be signed yet: at {path}, {reason}."
    kept = "It is kept as it stands, and the standard in force stays in force."
    do_next = "Put right what stands at {path}, then sign it."


@dataclass(eq=False)
class TooEarly(NotAllowed):
    """A new revision would be in force before it was signed."""

    since: str

    happened = "The new revision can't be in force from {since}: that is over."
    kept = "It is kept as it stands, and the standard in force stays in force."
    do_next = "Give it a later day, or have it in force as soon as it is signed."


def sign_revision(
    site: Site, work: StandardWork, since: datetime | None, session: Session, code: str
) -> Known[Standard]:
    """Sign the new revision and put it in force from a time; None: from now on.

    The draft is closed in the same step.

    Raises
    ------
    NotYetSound, TooEarly
        It is kept as it stands.
    NotAllowed
        The person is no geotechnical engineer, the code is wrong or is to wait, or another
        revision was adopted meanwhile.
    """
    now = site.now()
    if since is not None and since < now:
        raise TooEarly(time_words(since))
    standard = work.standard
    if isinstance(standard, Refused):
        raise NotYetSound(standard.path, as_typed(standard.reason))
    for refusal in work.refusals:
        raise NotYetSound(refusal.path, refusal.reason)
    new = standard.model_copy(update={"effective_from": since or now, "approved_by": session.name})
    entry, body = adoption(site, new, session, code)
    site.store.drafts.finish(work.draft_id, [entry])
    return Known(entry, body)
