"""Keeping what was measured on a photo: the taps, the results, and by which method."""

from fieldapp.work.known import Known, current
from fieldapp.work.photo.measuring import measurement
from fieldapp.work.photo.taps import OnPhoto
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.withdrawals import withdraw
from fieldapp.work.writing import state
from schemas.bodies.photo_measurement import PhotoMeasurement
from schemas.taps import Measurement

UNDONE = "undone on the photo"


def measured_on(site: Sight, photo_id: str) -> Known[PhotoMeasurement] | None:
    """Give what was last measured on a photo."""
    known = current(site, "photo_measurement", PhotoMeasurement)
    return next((it for it in reversed(known) if it.body.photo == photo_id), None)


def measured_now(work: OnPhoto) -> Measurement | None:
    """Work out what was tapped; None while nothing can be measured.

    Raises
    ------
    NotMeasured
        The taps measure nothing: it names where, and why.
    """
    taps = work.taps()
    return measurement(work.facts, taps) if taps else None


def keep_measured(
    site: Site, photo_id: str, work: OnPhoto, session: Session | None
) -> Known[PhotoMeasurement] | None:
    """Keep what is measured on a photo, durably, in place of what was measured there before.

    What was undone to its beginning is withdrawn, with all that it had been before. Kept again
    unchanged, nothing is written.

    Raises
    ------
    NotMeasured
        The taps measure nothing; what was kept before stands.
    NotYoursToWithdraw
        All was undone, and somebody of a higher role had measured it.
    """
    before, taps = measured_on(site, photo_id), work.taps()
    if taps is None:
        if before is not None and session is not None:
            _undo(site, before, session)
        return None
    body = PhotoMeasurement(photo=photo_id, taps=taps, found=measurement(work.facts, taps))
    if before is not None and before.body == body:
        return before
    entry = state(
        site,
        "photo_measurement",
        body,
        author=session.person_id if session else None,
        thing_id=before.id if before else None,
        parents=(before.entry.revision,) if before else (),
    )
    return Known(entry, body)


def _undo(site: Site, known: Known[PhotoMeasurement], session: Session) -> None:
    standing: Known[PhotoMeasurement] | None = known
    while standing is not None and standing.id == known.id:
        withdraw(site, standing.entry.revision, session, reason=UNDONE)
        standing = measured_on(site, known.body.photo)
