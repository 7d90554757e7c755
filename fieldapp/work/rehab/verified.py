"""Verifying a repair: by somebody who did not do it, signed with their own key."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import timedelta
from typing import Final

from fieldapp.work.authority import INSPECTORS, counting
from fieldapp.work.damage.stating import damages
from fieldapp.work.known import Known
from fieldapp.work.own_keys import key_with
from fieldapp.work.people import name_of, person, still_enrolled
from fieldapp.work.photo.before import there_by
from fieldapp.work.photo.photographs import photos_of
from fieldapp.work.rehab.revisions import anew, entry_of, kept, standing
from fieldapp.work.rehab.troubles import InstallerVerifies, NotToBeVerified
from fieldapp.work.roles import highest, require
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.standard_in_force import NoStandard, in_force
from schemas.bodies.photo import Photo
from schemas.bodies.rehab import Rehab
from schemas.signatures import sign

OF_MESH = ("torn mesh", "bagged mesh", "lap open")
"""Damage whose repair laps new mesh onto old."""


WHOLE_SECONDS: Final = timedelta(seconds=2)
"""Cameras and sticks tell no finer time than that."""


@dataclass(frozen=True)
class Proof:
    """Photos that were kept as such of what was done, by their ids, the oldest first."""

    shows: tuple[str, ...] = ()
    older: tuple[Known[Photo], ...] = ()
    """Those that were there before the work was begun, if no clock was wrong."""

    @property
    def every(self) -> tuple[str, ...]:
        """All of them: where somebody said which clock was wrong."""
        return (*(it.id for it in self.older), *self.shows)


@dataclass(frozen=True)
class Evidence:
    """What there is to verify a repair by."""

    has_photo: bool
    """Of what was done."""
    has_older: bool
    """Whether photos of it were there before the work was begun."""
    no_photo_because: str | None
    older_photo_because: str | None
    """Why those show it all the same, as whoever did the work said."""
    laps: int | None
    """The least lap onto sound old mesh, in openings; None: not known."""
    laps_needed: int | None
    """None: no mesh was repaired, or no standard demands any."""

    @property
    def reason(self) -> str:
        """Why nobody can verify it by this; nothing where somebody can."""
        if not self.has_photo:
            older = "its photo is from before the work was begun" if self.has_older else ""
            told = ", ".join(filter(None, (older, self.no_photo_because)))
            return "no photo shows what was done" + (f" ({told})" if told else "")
        return self.reason_of_laps

    @property
    def reason_of_laps(self) -> str:
        """Why not, by its laps alone."""
        if self.laps_needed is None:
            return ""
        if self.laps is None:
            return "nobody said how far new mesh laps sound old mesh"
        if self.laps < self.laps_needed:
            far = f"by {self.laps} openings, not by {self.laps_needed}"
            return f"new mesh laps sound old mesh {far}"
        return ""


def verify(
    site: Site,
    rehab_id: str,
    session: Session,
    code: str,
    *,
    barrier_down: bool,
    lap_openings: int | None = None,
) -> Known[Rehab]:
    """Verify a repair as somebody who did not do it, signed by that person's own key.

    `lap_openings` is what that person measured, where whoever did the work had not.

    Raises
    ------
    InstallerVerifies
        The person did the work.
    NotToBeVerified
        No photo shows it, its laps are short, or the barrier still stands.
    NotInThatState, NotYours, NotAllowed
        It is not done; a supervisor, technician or engineer verifies; the code is wrong.
    """
    session = still_enrolled(site, session)
    require(session, *INSPECTORS, act="verify a repair")
    before = standing(site, rehab_id, "verified", "done")
    _refuse_installer(site, before, session)
    evidence = evidence_of(site, before, lap_openings)
    reason = evidence.reason or ("" if barrier_down else "the barrier still stands")
    if reason:
        raise NotToBeVerified(reason)
    key = key_with(site, person(site, session.person_id), code)
    said = {
        "state": "verified",
        "covers": tuple(_seen_before(site, before.body)),
        "role": highest(session),
        "lap_openings": evidence.laps,
        "barrier_down": True,
        "refused_because": None,
        "public_key": key.public_key,
    }
    entry = sign(entry_of(site, anew(before.body, said), session, before), key)
    site.store.ledger.add([entry])
    return Known(entry, Rehab.model_validate(dict(entry.body)))


def refuse(site: Site, rehab_id: str, session: Session, *, because: str) -> Known[Rehab]:
    """Refuse a repair that is said to be done: it stays barricaded until it is done again.

    Raises
    ------
    InstallerVerifies, NotInThatState, NotYours
        As for `verify`.
    """
    session = still_enrolled(site, session)
    require(session, *INSPECTORS, act="refuse a repair")
    before = standing(site, rehab_id, "refused", "done")
    _refuse_installer(site, before, session)
    said = {"state": "refused", "refused_because": because, "role": highest(session)}
    return kept(site, anew(before.body, said), session, before)


def reopen(site: Site, rehab_id: str, session: Session | None, *, because: str) -> Known[Rehab]:
    """State that a verified repair does not hold: nobody goes there. Anyone may.

    Raises
    ------
    NotInThatState
        It is not verified.
    """
    before = standing(site, rehab_id, "reopened", "verified")
    said = {"state": "reopened", "refused_because": because, "role": highest(session)}
    return kept(site, anew(before.body, said), session, before)


def _seen_before(site: Site, rehab: Rehab) -> Iterator[str]:
    """Yield the observations of what it repairs that were made before the work was finished."""
    for known in damages(site, site.now(), rehab.heading):
        for it in known.damage.seen if known.id in rehab.damages else ():
            if rehab.finished_at is not None and it.damage.seen_at <= rehab.finished_at:
                yield it.id


def evidence_of(site: Site, known: Known[Rehab], measured: int | None = None) -> Evidence:
    """Look at what there is to verify a repair by; laps `measured` count where none were said."""
    rehab, proof = known.body, proof_of(site, known.id, known.body)
    return Evidence(
        has_photo=bool(proof.shows or (proof.older and rehab.older_photo_because)),
        has_older=bool(proof.older),
        no_photo_because=rehab.no_photo_because,
        older_photo_because=rehab.older_photo_because,
        laps=measured if rehab.lap_openings is None else rehab.lap_openings,
        laps_needed=_laps_needed(site, rehab),
    )


def proof_of(site: Sight, rehab_id: str, rehab: Rehab, named: Iterable[str] = ()) -> Proof:
    """Look at the photos of a repair since it was begun last; at those that are `named` alone.

    What a repair names from before never shows what was done. A photo that others named and
    whose record is not here can't be judged here: it was where it was named.
    """
    own = {it.id: it for it in photos_of(site, rehab_id)}
    wanted = tuple(named) or (*rehab.after, *own)
    since = [it for it in dict.fromkeys(wanted) if it not in rehab.before]
    older = tuple(own[it] for it in since if it in own and _is_older(own[it], rehab))
    from_before = {it.id for it in older}
    return Proof(tuple(it for it in since if it not in from_before), older)


def _is_older(photo: Known[Photo], rehab: Rehab) -> bool:
    return rehab.started_at is not None and there_by(photo) < rehab.started_at - WHOLE_SECONDS


def _laps_needed(site: Site, rehab: Rehab) -> int | None:
    """Give the laps that the standard demands, where mesh was repaired."""
    try:
        rule = in_force(site, site.now()).body.rehab
    except NoStandard:
        return None
    repaired = (it for it in damages(site, site.now(), rehab.heading) if it.id in rehab.damages)
    kinds = {seen.damage.kind for it in repaired for seen in it.damage.seen}
    return rule.lap_openings_at_least if rule and kinds & set(OF_MESH) else None


def _refuse_installer(site: Site, before: Known[Rehab], session: Session) -> None:
    if session.person_id in counting(site).installers(before.id):
        raise InstallerVerifies(name_of(site, session.person_id))
