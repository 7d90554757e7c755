"""Deviations: granted by the geotechnical engineer, before sign-off, one place, with an end."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from fieldapp.work.known import Known, current, one
from fieldapp.work.own_keys import key_with
from fieldapp.work.people import person, still_enrolled
from fieldapp.work.roles import require
from fieldapp.work.signatures import signature_fits
from fieldapp.work.signed import standing, strictest
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.standard_in_force import in_force
from fieldapp.work.writing import written
from schemas.bodies.deviation import Deviation
from schemas.bodies.round import Round
from schemas.signatures import sign
from schemas.trouble import NotAllowed

NEVER = ("last_row_to_face", "neighbouring_bolts")
"""Never for the last row to the face, never for two neighbouring bolts."""

REASONS = (
    "hole can't be drilled here: bolt to be added beside within the shift",
    "supported by the old bolts beside it, sounded and found tight",
    "services in the way: spot bolt to be added from accepted ground",
    "another bolt type on trial, as agreed",
)
"""What an engineer picks from."""

AT_MOST = timedelta(hours=24)
"""Longer than that none stands, whatever it says and whatever the standard allows."""


@dataclass(eq=False)
class NoDeviationHere(NotAllowed):
    """A deviation can't be granted."""

    check: str
    reason: str

    happened = "No deviation can be granted for {check}: {reason}."
    kept = "The round is as it was."
    do_next = "Have it put right, then look again."


def grant(site: Site, deviation: Deviation, session: Session, code: str) -> Known[Deviation]:
    """Grant a deviation for one place of one round, signed by the engineer's own key.

    Raises
    ------
    NotYours
        Only a geotechnical engineer grants one.
    NoDeviationHere
        The check allows none, the round is signed, or the end is too late.
    NotAllowed
        The sign code is wrong, or is to wait. Nothing was granted.
    """
    session = still_enrolled(site, session)
    require(session, "geotechnical engineer", act="grant a deviation")
    reason = _refusal(site, deviation)
    if reason:
        raise NoDeviationHere(deviation.check.replace("_", " "), reason)
    key = key_with(site, person(site, session.person_id), code)
    named = deviation.model_copy(update={"public_key": key.public_key})
    entry = sign(written(site, "deviation", named, author=session.person_id), key)
    site.store.ledger.add([entry])
    return Known(entry, Deviation.model_validate(dict(entry.body)))


def granted_for(site: Sight, round_id: str) -> tuple[Deviation, ...]:
    """Give the deviations granted for a round, ended ones too: an assessment has its time.

    What no engineer signed with their own key is no deviation.
    """
    known = current(site, "deviation", Deviation, round=round_id)
    return tuple(_within_a_day(it) for it in known if signature_fits(site, it.entry))


def latest_end(site: Site, at: datetime) -> datetime:
    """Give the latest time at which a deviation granted now may end."""
    hours = in_force(site, at).body.deviations.at_most_h
    return at + min(timedelta(hours=float(hours)), AT_MOST)


def _within_a_day(granted: Known[Deviation]) -> Deviation:
    latest = granted.entry.made_at + AT_MOST
    if granted.body.ends_at <= latest:
        return granted.body
    return granted.body.model_copy(update={"ends_at": latest})


def _refusal(site: Site, deviation: Deviation) -> str | None:
    if deviation.check in NEVER:
        return "the rules of the mine allow none"
    if deviation.row is None:
        return "it needs one place"
    if deviation.ends_at > latest_end(site, site.now()):
        return "it would last longer than the standard allows"
    if _is_accepted(site, deviation.round):
        return "the round is signed already"
    return None


def _is_accepted(site: Site, round_id: str) -> bool:
    """Whether it stands accepted; one that was sent back waits for a grant, or for rework."""
    heads = one(site, "round", Round, round_id)
    return bool(heads) and strictest(standing(site, heads)) == "accepted"
