"""Stating an intersection, and putting right what was stated of its place, outline and cables."""

from datetime import datetime

from fieldapp.assess.intersections.span import why_no_outline
from fieldapp.work.headings import heading
from fieldapp.work.intersection.steps import ANEW, before_plates, heads_of, least_far
from fieldapp.work.intersection.troubles import NoSuchCable, OpeningRefused
from fieldapp.work.known import Known, parents_over
from fieldapp.work.people import still_enrolled
from fieldapp.work.roles import SIGNERS, require
from fieldapp.work.site import Session, Site
from fieldapp.work.standard_in_force import in_force, of_revision
from fieldapp.work.writing import written
from schemas.bodies.intersection import Intersection
from schemas.entry import Entry

PUT_RIGHT = (
    "from_m",
    "to_m",
    "corners",
    "corners_method",
    "support_class",
    "cable",
    "cables",
    "chained_at",
    "corrected_because",
)
"""What a correction says anew; its bolts, its cables and how far they are stay."""


def add_intersection(
    site: Site, body: Intersection, session: Session | None
) -> Known[Intersection]:
    """State an intersection and the cables that it demands. Anyone may: entry gets stricter.

    Raises
    ------
    OpeningRefused, NoSuchCable, NoStandard, NoSuchHeading
        As for `intersection_entry`.
    """
    entry, body = intersection_entry(site, body, session)
    site.store.ledger.add([entry])
    return Known(entry, body)


def intersection_entry(
    site: Site, body: Intersection, session: Session | None, thing_id: str | None = None
) -> tuple[Entry, Intersection]:
    """Write that there is an intersection, without keeping it yet.

    It is judged by the revision of the standard that was shown, or else by the one in force.

    Raises
    ------
    OpeningRefused
        It has no length, or its corners are no outline.
    NoSuchCable
        That revision has no such bolt in no such class.
    NoStandard, NoSuchHeading
        None is in force; nothing is known of its heading.
    """
    body = _checked(site, body, site.now())
    author = session.person_id if session else None
    return written(site, "intersection", body, author=author, thing_id=thing_id), body


def correct_intersection(
    site: Site, name: str, right: Intersection, session: Session | None
) -> Known[Intersection]:
    """State what is right of an intersection's place, outline and cables.

    Raises
    ------
    NotYours, NoSuchIntersection, OpeningRefused, NoSuchCable
        As for `correction_entry`.
    """
    entry, body = correction_entry(site, name, right, session)
    site.store.ledger.add([entry])
    return Known(entry, body)


def correction_entry(
    site: Site, name: str, right: Intersection, session: Session | None
) -> tuple[Entry, Intersection]:
    """Write what is right of an intersection's place, outline and cables, without keeping it yet.

    Its bolts and cables stay, and the steps of those; plates are signed for once more.

    Raises
    ------
    NotYours
        Only a shift supervisor or engineer takes ground and cables out of the restriction.
    NoSuchIntersection, OpeningRefused, NoSuchCable
        Nothing is known so; as for `intersection_entry`.
    """
    corrects = require_signer(site, session)
    heads = heads_of(site, name)
    body = before_plates(site, least_far(heads))
    said = {field: getattr(right, field) for field in PUT_RIGHT}
    body = _checked(site, body.model_copy(update=ANEW | said), site.now())
    entry = written(
        site,
        "intersection",
        body,
        author=corrects.person_id,
        thing_id=heads[0].id,
        parents=parents_over(site, heads),
    )
    return entry, body


def require_signer(site: Site, session: Session | None) -> Session:
    """Give who puts an intersection right, as they are enrolled now.

    Raises
    ------
    NotYours
        They are no shift supervisor and no engineer, or nobody is signed in.
    """
    who = Session("", "Nobody", ()) if session is None else still_enrolled(site, session)
    require(who, *SIGNERS, act="put an intersection right")
    return who


def _checked(site: Site, body: Intersection, at: datetime) -> Intersection:
    place = heading(site, body.heading)
    why = why_no_outline(body.corners)
    if body.from_m >= body.to_m:
        why = "it ends before it begins"
    if why:
        raise OpeningRefused(place.body.name, why)
    shown = of_revision(site, body.standard) if body.standard else None
    shown = shown or in_force(site, at)
    demanded = shown.body.support_class(body.support_class)
    if demanded is None or body.cable not in {it.code for it in demanded.bolts}:
        raise NoSuchCable(body.cable, body.support_class)
    return body.model_copy(update={"standard": shown.entry.revision})
