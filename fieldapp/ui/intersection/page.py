"""What the screen of intersections asks its worker for, and the words it writes; no widgets."""

from collections.abc import Iterator
from dataclasses import dataclass
from zoneinfo import ZoneInfo

from fieldapp.assess.entry.cables import finding_words
from fieldapp.assess.intersections.plan import places_m
from fieldapp.assess.intersections.span import span_circle_m, why_no_outline
from fieldapp.report.intersection_picture import IntersectionPicture
from fieldapp.report.words.findings import in_signs, limit, measured, places, when
from fieldapp.report.words.lengths import chainage_words
from fieldapp.ui.intersection.stating import BegunLine, begun_lines
from fieldapp.ui.names import short
from fieldapp.ui.translate import _
from fieldapp.work.headings import heading
from fieldapp.work.intersection.seen import as_demanded, breakaway_at, findings, today
from fieldapp.work.intersection.steps import intersections, waits_for
from fieldapp.work.known import Known
from fieldapp.work.people import name_of
from fieldapp.work.site import Site
from schemas.bodies.intersection import Intersection, PlanBolt
from schemas.findings import Finding, Verdict
from schemas.numbers import STEP_FACTOR, rounded


@dataclass(frozen=True)
class FindingLine:
    """One line of the list: what the standard says, or what the cables wait for."""

    verdict: str
    title: str
    detail: str


@dataclass(frozen=True)
class IntersectionPage:
    """One intersection as the screen shows it."""

    known: Known[Intersection]
    title: str
    subtitle: str
    lines: tuple[FindingLine, ...]
    picture: IntersectionPicture
    demanded: tuple[PlanBolt, ...]
    """A bolt in each position of its pattern."""
    waits: str
    """What its cables wait for; nothing where they hold entry no longer."""
    opened_words: str
    """When the breakaway was taken; nothing where it was not."""

    @property
    def steps_done(self) -> str:
        """How far its cables are."""
        body = self.known.body
        if body.step == "planned":
            return _("{n} planned").format(n=body.cables)
        return _("{n} of {m} {step}").format(n=body.count, m=body.cables, step=_(body.step))


@dataclass(frozen=True)
class IntersectionsSeen:
    """What is stated of intersections, and what was begun on this tablet."""

    pages: tuple[IntersectionPage, ...]
    begun: tuple[BegunLine, ...]


def intersections_seen(site: Site) -> IntersectionsSeen:
    """Look at every intersection, heading by heading, outbye first."""
    return IntersectionsSeen(
        tuple(_page(site, it) for it in intersections(site)), begun_lines(site)
    )


def _page(site: Site, known: Known[Intersection]) -> IntersectionPage:
    found, waits = findings(site, known), waits_for(site, known)
    body, units, opened = known.body, site.settings.units, breakaway_at(site, known)
    where = chainage_words(body.from_m, units)
    name = short(heading(site, body.heading).body.name)
    why = waits.partition(", ")[0].partition("; ")[0].partition(": ")[0]
    entry = _("restricted: cables {why}").format(why=why) if waits else _(_entry(found))
    return IntersectionPage(
        known=known,
        title=_("{heading}, junction at {place}").format(heading=name, place=where),
        subtitle=entry,
        lines=(*_today(site, known), *_lines(found, waits), *_signed(site, known, waits)),
        picture=_picture(body, found),
        demanded=as_demanded(site, known),
        waits=waits,
        opened_words="" if opened is None else when(opened, ZoneInfo(site.settings.zone)),
    )


def _today(site: Site, known: Known[Intersection]) -> Iterator[FindingLine]:
    """Say what the standard in force now makes of it, where that is another thing."""
    both = today(site, known)
    if both is not None:
        own, now = both
        worst = next(iter(now.breaches), None)
        verdict = Verdict.ACCEPT if worst is None else worst.verdict
        title = _("In force now: {words}").format(words=_(now.words))
        yield FindingLine(str(verdict), title, _("it is judged by {own}").format(own=own.standard))


def _signed(site: Site, known: Known[Intersection], waits: str) -> Iterator[FindingLine]:
    """Say who signed for the plates that count, and when they were."""
    if not waits:
        zone, body = ZoneInfo(site.settings.zone), known.body
        said = _("signed by {who}, plated {when}").format(
            who=name_of(site, known.entry.author), when=when(body.at, zone)
        )
        title = _("Cables: {n} of {m} plated").format(n=body.count, m=body.cables)
        yield FindingLine(str(Verdict.ACCEPT), title, said)


def _entry(found: tuple[Finding, ...]) -> str:
    worst = next(
        (it for it in found if it.verdict not in (Verdict.ACCEPT, Verdict.FIX_THIS_SHIFT)), None
    )
    return "entry is not restricted by it" if worst is None else finding_words(worst)


def _lines(found: tuple[Finding, ...], waits: str) -> Iterator[FindingLine]:
    if waits:
        yield FindingLine(
            str(Verdict.REWORK), _("Cables"), _("entry waits: {why}").format(why=waits)
        )
    for it in found:
        value, bound = measured(it, engineer=True), in_signs(limit(it, engineer=True))
        said = ", ".join((value, bound) if value and bound else (value or _(it.verdict),))
        more = it.basis if it.check == "breakaway" else places(it, 1)
        yield FindingLine(
            str(it.verdict), f"{it.title}: {said}", "; ".join(filter(None, (it.because, more)))
        )


def _picture(body: Intersection, found: tuple[Finding, ...]) -> IntersectionPicture:
    outline = tuple(places_m(body.corners))
    span = None if why_no_outline(body.corners) else span_circle_m(body.corners)
    missing = next((it for it in found if it.check == "bolts_present"), None)
    return IntersectionPicture(
        outline=outline,
        span=span,
        bolts=tuple(
            (at, it.plate or "") for at, it in zip(places_m(body.bolts), body.bolts, strict=True)
        ),
        cables=tuple(places_m(body.cables_at)),
        missing=() if missing is None else tuple(_places(body, missing)),
        gap=next(_gaps(body, found), None),
        span_words=""
        if span is None
        else _("span {m} m, flat in plan").format(m=rounded(span[1], STEP_FACTOR)),
        inbye_words=_("inbye"),
    )


def _places(body: Intersection, found: Finding) -> Iterator[tuple[float, float]]:
    for it in found.places:
        if it.chainage_m is not None and it.s_m is not None:
            yield float(it.chainage_m - body.from_m), float(it.s_m)


def _gaps(
    body: Intersection, found: tuple[Finding, ...]
) -> Iterator[tuple[tuple[float, float], float]]:
    for it in found:
        if it.check == "largest_gap" and it.verdict is not Verdict.ACCEPT:
            for place, at in zip(it.places, _places(body, it), strict=False):
                if place.diameter_m is not None:
                    yield at, float(place.diameter_m)
