"""Deviations: granted by the geotechnical engineer, before sign-off, one place, with an end."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from fieldapp.work.known import Known, current
from fieldapp.work.roles import require
from fieldapp.work.site import Session, Site
from fieldapp.work.standard_in_force import in_force
from fieldapp.work.writing import state
from schemas.bodies.deviation import Deviation
from schemas.bodies.sign_off import SignOff
from schemas.trouble import NotAllowed

NEVER = ("last_row_to_face", "neighbouring_bolts")
"""Never for the last row to the face, never for two neighbouring bolts."""


@dataclass(eq=False)
class NoDeviationHere(NotAllowed):
    """A deviation can't be granted."""

    check: str
    reason: str

    happened = "No deviation can be granted for {check}: {reason}."
    kept = "The round is as it was."
    do_next = "Have it put right, then look again."


def grant(site: Site, deviation: Deviation, session: Session) -> Known[Deviation]:
    """Grant a deviation for one place of one round.

    Raises
    ------
    NotYours
        Only a geotechnical engineer grants one.
    NoDeviationHere
        The check allows none, the round is signed, or the end is too late.
    """
    require(session, "geotechnical engineer", act="grant a deviation")
    reason = _refusal(site, deviation)
    if reason:
        raise NoDeviationHere(deviation.check.replace("_", " "), reason)
    entry = state(site, "deviation", deviation, author=session.person_id)
    return Known(entry, deviation)


def granted_for(site: Site, round_id: str) -> tuple[Deviation, ...]:
    """Give the deviations granted for a round, ended ones too: an assessment has its time."""
    known = current(site, "deviation", Deviation)
    return tuple(it.body for it in known if it.body.round == round_id)


def latest_end(site: Site, at: datetime) -> datetime:
    """Give the latest time at which a deviation granted now may end."""
    hours = in_force(site, at).body.deviations.at_most_h
    return at + timedelta(hours=float(hours))


def _refusal(site: Site, deviation: Deviation) -> str | None:
    if deviation.check in NEVER:
        return "the rules of the mine allow none"
    if deviation.row is None:
        return "it needs one place"
    if deviation.ends_at > latest_end(site, site.now()):
        return "it would last longer than the standard allows"
    signed = [it.body.round for it in current(site, "sign_off", SignOff)]
    if deviation.round in signed:
        return "the round is signed already"
    return None
