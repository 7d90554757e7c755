"""What the screen of a new intersection asks its worker for, and its words; no widgets here."""

from dataclasses import dataclass
from decimal import Decimal

from fieldapp.assess.intersections.plan import places_m
from fieldapp.assess.intersections.span import span_circle_m, why_no_outline
from fieldapp.report.intersection_picture import IntersectionPicture
from fieldapp.report.words.lengths import chainage_words
from fieldapp.ui.names import short
from fieldapp.ui.translate import _
from fieldapp.work.asked import Asked
from fieldapp.work.headings import heading
from fieldapp.work.intersection.draft import (
    IntersectionWork,
    begin_correction,
    begin_intersection,
    begun_intersection,
    begun_intersections,
)
from fieldapp.work.intersection.questions import FORMS, question_now
from fieldapp.work.intersection.steps import heads_of, least_far
from fieldapp.work.site import Session, Site
from fieldapp.work.standard_in_force import in_force, of_revision
from schemas.bodies.intersection import Intersection
from schemas.numbers import STEP_FACTOR, rounded


@dataclass(frozen=True)
class DraftPage:
    """Everything that is shown of one intersection on its way to being stated."""

    heading_id: str
    name: str
    work: IntersectionWork
    question: Asked | None
    where: str
    told: str
    """What was answered so far."""
    picture: IntersectionPicture | None
    """None until its outline can be drawn."""

    @property
    def can_keep(self) -> bool:
        """Whether everything was answered."""
        return self.question is None and self.work.body is not None


@dataclass(frozen=True)
class BegunLine:
    """One that was begun on this tablet and neither stated nor discarded."""

    draft_id: str
    heading_id: str
    title: str
    detail: str


def opened_intersection(
    site: Site, heading_id: str, draft_id: str, corrects: str, session: Session | None
) -> DraftPage:
    """Go on with one that was begun, with putting one right, or begin."""
    if draft_id:
        return draft_page(site, begun_intersection(site, draft_id))
    if corrects:
        return draft_page(site, begin_correction(site, corrects, session))
    return draft_page(site, begin_intersection(site, heading_id))


def draft_page(site: Site, work: IntersectionWork) -> DraftPage:
    """Show one as it stands: what is asked next, what was said, and its outline."""
    before = None
    if work.about.corrects:
        before = least_far(heads_of(site, work.about.corrects)).body
    shown = of_revision(site, work.about.standard) or in_force(site, site.now())
    return DraftPage(
        heading_id=work.about.heading_id,
        name=_name(site, work),
        work=work,
        question=question_now(work, shown.body, before),
        where=_where(site, work, before),
        told=_told(work),
        picture=_picture(work),
    )


def begun_lines(site: Site) -> tuple[BegunLine, ...]:
    """Give those that were begun here, in words."""
    return tuple(
        BegunLine(
            it.draft_id,
            it.about.heading_id,
            _("{heading}: go on").format(heading=_name(site, it)),
            ", ".join(filter(None, (_where(site, it, None), _told(it) or _("begun")))),
        )
        for it in begun_intersections(site)
    )


def _name(site: Site, work: IntersectionWork) -> str:
    return short(heading(site, work.about.heading_id).body.name)


def _where(site: Site, work: IntersectionWork, before: Intersection | None) -> str:
    said = work.said.get("from_m", before.from_m if before else None)
    what = _("put an intersection right") if work.about.corrects else _("an intersection")
    if said is None:
        return what
    at = chainage_words(Decimal(said), site.settings.units)
    return _("{what} at {place}").format(what=what, place=at)


def _told(work: IntersectionWork) -> str:
    said = work.said
    form = _(FORMS[said["shape"]]) if "shape" in said else ""
    wide = " × ".join(f"{said[it]} m" for it in ("width_m", "other_m") if it in said)
    cables = " × ".join(f"{said[it]}" for it in ("cables", "cable") if it in said)
    return ", ".join(filter(None, (form, wide, said.get("support_class", ""), cables)))


def _picture(work: IntersectionWork) -> IntersectionPicture | None:
    corners = work.corners
    if not corners or why_no_outline(corners):
        return None
    span = span_circle_m(corners)
    return IntersectionPicture(
        outline=tuple(places_m(corners)),
        span=span,
        span_words=_("span {m} m, flat in plan").format(m=rounded(span[1], STEP_FACTOR)),
        inbye_words=_("inbye"),
    )
