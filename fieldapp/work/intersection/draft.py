"""An intersection on its way to being stated: the fold of its touches, each on disk before shown.

Killed half-way it comes back at the same question, for whoever holds the tablet then. Nothing of
it counts before it is stated.
"""

from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property
from typing import Any, Final, Literal

from pydantic import AwareDatetime

from fieldapp.assess.intersections.outlines import SHAPES, outline_m
from fieldapp.work.headings import heading
from fieldapp.work.intersection.judged import standard_of
from fieldapp.work.intersection.stating import (
    correction_entry,
    intersection_entry,
    require_signer,
)
from fieldapp.work.intersection.steps import heads_of, least_far, stated_of
from fieldapp.work.known import Known
from fieldapp.work.place_chained import by_its_touches, touched_there
from fieldapp.work.rechaining import chained_now
from fieldapp.work.said_touches import Filled, SaidTouch, begun, put_touch
from fieldapp.work.site import Session, Site
from fieldapp.work.standard_in_force import in_force
from fieldapp.work.writing import new_thing_id
from schemas.bodies.intersection import Corner, Intersection
from schemas.numbers import STEP_M, rounded
from schemas.part import Own

DRAWN: Final = ("shape", "width_m", "other_m")
"""From these its outline is drawn."""
NEEDED: Final = ("from_m", *DRAWN, "corners_method", "support_class", "cable", "cables")
WHY: Final = "corrected_because"


class IntersectionAbout(Own):
    """What a draft of an intersection begins from."""

    draft: Literal["intersection"]
    heading_id: str
    began_at: AwareDatetime
    standard: str
    """Revision of the standard that is shown, and by which it is judged."""
    corrects: str | None = None
    """Id of the intersection that is put right; None: it is a new one."""
    chained_at: AwareDatetime | None = None
    """By which chainages it began, as far as this tablet knew."""


@dataclass(frozen=True)
class IntersectionWork(Filled[SaidTouch]):
    """One intersection as it stands: what it began as, and every touch since."""

    draft_id: str
    """Of the draft, and of the new intersection that it becomes."""
    about: IntersectionAbout
    touches: tuple[SaidTouch, ...] = ()

    @cached_property
    def said(self) -> dict[str, Any]:
        """Everything that stands: what is not in it was never answered."""
        return {name: it for touch in self.standing for name, it in touch.says.items()}

    @property
    def needed(self) -> tuple[str, ...]:
        """What has to be answered before it is stated."""
        return (*NEEDED, WHY) if self.about.corrects else NEEDED

    @property
    def corners(self) -> tuple[Corner, ...]:
        """Its outline; none while its form and widths are not known."""
        said = self.said
        if any(said.get(name) is None for name in DRAWN) or said["shape"] not in SHAPES:
            return ()
        outline = outline_m(said["shape"], float(said["width_m"]), float(said["other_m"]))
        return tuple(Corner(x_m=rounded(x, STEP_M), y_m=rounded(y, STEP_M)) for x, y in outline)

    @property
    def body(self) -> Intersection | None:
        """The intersection; None while something of it is not answered."""
        said = self.said
        if any(said.get(name) is None for name in self.needed):
            return None
        named = {"from_m", "corners_method", "support_class", "cable", "cables", WHY, "chained_at"}
        return Intersection.model_validate(
            {
                "heading": self.about.heading_id,
                "to_m": str(Decimal(said["from_m"]) + Decimal(said["other_m"])),
                "corners": [it.model_dump(mode="json") for it in self.corners],
                "step": "planned",
                "at": self.about.began_at,
                "standard": self.about.standard,
                "chained_at": self.about.chained_at,
                **{name: it for name, it in said.items() if name in named},
            }
        )


def begun_intersections(site: Site) -> tuple[IntersectionWork, ...]:
    """Give every one that was begun on this tablet and is neither stated nor discarded."""
    return tuple(
        IntersectionWork(*it) for it in begun(site, "intersection", IntersectionAbout, SaidTouch)
    )


def begun_intersection(site: Site, draft_id: str) -> IntersectionWork:
    """Give one that was begun here; it was not finished meanwhile, or that is a bug."""
    return next(it for it in begun_intersections(site) if it.draft_id == draft_id)


def begin_intersection(site: Site, heading_id: str) -> IntersectionWork:
    """Go on with what is being stated in a heading, or begin: on disk before this returns.

    Raises
    ------
    NoStandard, NoSuchHeading
        None is in force; nothing is known of the heading.
    """
    place = heading(site, heading_id)
    shown = in_force(site, site.now()).entry.revision
    return _open(site, place.id, None) or _begun(site, place.id, shown, None)


def begin_correction(site: Site, name: str, session: Session | None) -> IntersectionWork:
    """Go on with putting an intersection right, or begin: all of it is asked once more.

    Raises
    ------
    NotYours, NoSuchIntersection
        The person is no shift supervisor and no engineer; nothing is known so.
    """
    require_signer(site, session)
    head = least_far(heads_of(site, name))
    known = (*stated_of(site, head).revisions, head.body)
    shown = standard_of(site, known, site.now()).entry.revision
    going_on = _open(site, head.body.heading, head.id)
    return going_on or _begun(site, head.body.heading, shown, head.id)


def keep_intersection_touch(
    site: Site, work: IntersectionWork, touch: SaidTouch
) -> IntersectionWork:
    """Put one touch on disk, then give the work that follows from it."""
    touch = touched_there(site, work.about.heading_id, touch)
    put_touch(site, work.draft_id, touch)
    return replace(work, touches=(*work.touches, touch))


def undo_intersection(site: Site, work: IntersectionWork, by: str | None) -> IntersectionWork:
    """Take the last standing touch back; nothing to take back changes nothing."""
    if not work.can_undo:
        return work
    return keep_intersection_touch(site, work, SaidTouch(at=site.now(), by=by, undone=True))


def keep_intersection(
    site: Site, work: IntersectionWork, session: Session | None
) -> Known[Intersection]:
    """State it: the entry is there and the draft is closed, in one step.

    Raises
    ------
    OpeningRefused, NoSuchCable, NotYours, NoSuchIntersection
        As for `intersection_entry` and `correction_entry`; the draft stays as it was.
    PlaceInDoubt
        Chainages were measured anew meanwhile; the draft stays as it was.
    """
    body = work.body
    assert body is not None  # noqa: S101 - the key is there once everything is answered
    body = by_its_touches(site, body, work.standing, work.about.began_at)
    if work.about.corrects is not None:
        entry, body = correction_entry(site, work.about.corrects, body, session)
    else:
        entry, body = intersection_entry(site, body, session, thing_id=work.draft_id)
    site.store.drafts.finish(work.draft_id, [entry])
    return Known(entry, body)


def discard_intersection(site: Site, work: IntersectionWork) -> None:
    """Discard what was begun and is not to be stated."""
    site.store.drafts.finish(work.draft_id, [])


def _open(site: Site, heading_id: str, corrects: str | None) -> IntersectionWork | None:
    found = (it for it in begun_intersections(site) if it.about.heading_id == heading_id)
    return next((it for it in found if it.about.corrects == corrects), None)


def _begun(site: Site, heading_id: str, shown: str, corrects: str | None) -> IntersectionWork:
    about = IntersectionAbout(
        draft="intersection",
        heading_id=heading_id,
        began_at=site.now(),
        standard=shown,
        corrects=corrects,
        chained_at=chained_now(site, heading_id),
    )
    draft_id = new_thing_id(site)
    site.store.drafts.begin(draft_id, about.model_dump_json().encode())
    return IntersectionWork(draft_id, about)
