"""Stripping: rock is taken away together with the support that stood in it."""

from dataclasses import dataclass
from decimal import Decimal

from fieldapp.work.face import face
from fieldapp.work.headings import heading
from fieldapp.work.known import Known
from fieldapp.work.site import Session, Site
from fieldapp.work.writing import state
from schemas.bodies.event import Event, Stripped
from schemas.numbers import SAID_M, rounded, text
from schemas.trouble import BadInput


@dataclass(eq=False)
class StretchRefused(BadInput):
    """A stripping names no ground that the heading has."""

    heading: str
    from_m: str
    to_m: str
    face_m: str

    happened = "Nothing can have been stripped in {heading} from {from_m} m to {to_m} m."
    kept = "Nothing was stated, and entry is as it was."
    do_next = "Name it from outbye to inbye, as far as the face at {face_m} m. Or state no entry."


def report_stripped(
    site: Site, heading_id: str, from_m: Decimal, stripped: Stripped, session: Session | None
) -> Known[Event]:
    """State that the support of a stretch was taken away. Anyone may: it makes entry stricter.

    Raises
    ------
    StretchRefused
        It has no length, or ends where the heading has no ground: what nobody can support anew
        would hold entry for ever.
    """
    place = heading(site, heading_id)
    face_m = face(site, place).chainage_m
    if not from_m < stripped.to_m <= face_m:
        raise StretchRefused(
            place.body.name, text(from_m), text(stripped.to_m), text(rounded(face_m, SAID_M))
        )
    now = site.now()
    body = Event(
        heading=place.id,
        what="stripped",
        at=now,
        chainage_m=from_m,
        radius_m=Decimal(0),
        excluded_until=now,
        stripped=stripped,
    )
    entry = state(site, "event", body, author=session.person_id if session else None)
    return Known(entry, body)
