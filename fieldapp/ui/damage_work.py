"""What the Damage screen asks its worker for, and the words it writes; no widgets here."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from math import ceil
from typing import Final, get_args
from zoneinfo import ZoneInfo

from fieldapp.assess.damage import Ranked
from fieldapp.report.damage_picture import damage_picture, middle_on, stretch_on, zone_at
from fieldapp.report.shapes import Drawing
from fieldapp.report.words.damage import due_words, holds_words, place_words, seen_words
from fieldapp.report.words.lengths import Units, chainage_words, in_units
from fieldapp.ui.names import short
from fieldapp.ui.translate import _
from fieldapp.work.asked import Asked
from fieldapp.work.damage.correcting import question_of_correction
from fieldapp.work.damage.draft import (
    ANEW,
    DamageWork,
    begin_correction,
    begin_damage,
    begun_damage,
)
from fieldapp.work.damage.questions import Near, question_now
from fieldapp.work.damage.stating import DamageKnown, damages, preview
from fieldapp.work.entry import entry
from fieldapp.work.headings import heading
from fieldapp.work.site import Session, Site
from fieldapp.work.standard_in_force import NoStandard, in_force
from schemas.bodies.damage import Damage, DamageZone
from schemas.findings import Verdict
from schemas.rehab_rules import Holds
from schemas.standard import Standard, SupportClass

MARKS: Final[dict[Holds, Verdict]] = {
    "no entry": Verdict.NO_ENTRY,
    "restricted": Verdict.REWORK,
    "open": Verdict.FIX_THIS_SHIFT,
}
NEAR_M: Final = 3
"""Damage so near is offered as the one that is seen again."""
AROUND: Final[tuple[DamageZone, ...]] = get_args(DamageZone)[:5]
"""From the left wall over the back to the right wall: floor and face lie beside none of these."""
FAR_M, CLOSE_M = 20, 6
"""Drawn in and out of a place: more of the drive until it is known which."""
ABOUT_M: Final = 1
"""Of the drive in sight beyond each end of a stretch, at least."""


@dataclass(frozen=True)
class RankWords:
    """How soon a damage is repaired, and who goes beneath it, in words."""

    title: str = ""
    state: str = ""
    verdict: str = ""
    reasons: tuple[str, ...] = ()
    lead: str = ""
    """How the first reason begins: the state says that already."""

    @property
    def fitting(self) -> list[str]:
        """Ways to say why, the longest first: what ends entry stands first in each."""
        told = [reason.removeprefix(f"{self.lead}: ") for reason in self.reasons]
        shortest = [told[0].partition(";")[0], ""] if told else []
        return ["; ".join(told[:n]) for n in range(len(told), 0, -1)] + shortest


NOT_YET: Final = RankWords(
    reasons=(_("Priority and entry stand here once it is known what it is and where."),)
)


@dataclass(frozen=True)
class DamagePage:
    """Everything that the Damage screen shows of one observation on its way."""

    heading_id: str
    name: str
    work: DamageWork
    question: Asked | None
    rank: RankWords
    where: str
    told: str
    """What was said and measured of it; empty while nobody could find it."""
    drawing: Drawing | None
    place: tuple[float, float] | None
    """Its middle on the drive."""
    along_m: float
    """So much of the drive is to be in sight about it."""
    support_class: SupportClass | None
    """The class put up there; None where no standard has it, and nothing can be drawn."""
    seen_before: tuple[str, ...] = ()
    """Ids of the observations that saw it before: photos are of one of them."""

    @property
    def can_keep(self) -> bool:
        """Whether somebody could find it; of a correction, whether nothing is left open by it."""
        work = self.work
        if work.about.corrects is not None and self.question is not None:
            return work.can_undo and self.question.key == ANEW
        return work.damage is not None

    def zone_at(self, s_m: float) -> DamageZone | None:
        """Give the zone of a place that was touched."""
        return zone_at(self.support_class, s_m) if self.support_class else None


def opened_damage(
    site: Site,
    heading_id: str,
    seen: tuple[str | None, str | None],
    session: Session | None,
    draft_id: str | None = None,
) -> DamagePage:
    """Go on with the damage that is being recorded in a heading, or begin.

    `seen` are the damage that is seen again, and the observation that is put right; `draft_id`
    is what was begun already.
    """
    again, corrects = seen
    if draft_id is not None:
        return damage_page(site, begun_damage(site, draft_id), session)
    if corrects is not None:
        return damage_page(site, begin_correction(site, corrects), session)
    return damage_page(site, begin_damage(site, heading_id, again), session)


def damage_page(site: Site, work: DamageWork, session: Session | None) -> DamagePage:
    """Show one observation as it stands: what is asked next, and what it comes to."""
    place = heading(site, work.about.heading_id)
    standard = _standard(site)
    demanded = standard.support_class(place.body.support_class) if standard else None
    state = entry(site, place.id, site.now())
    known = damages(site, site.now(), place.id)
    damage = work.damage
    itself = (work.said.get("again"), work.about.corrects)  # that one has the ring
    others = [it for it in known if it.id not in itself]
    around = _around(work, state.line_m)
    drawing = (
        damage_picture(demanded, around, state.face_m, others, site.settings.units)
        if demanded
        else None
    )
    zones = drawing.zones if drawing else ()
    if drawing and damage:
        spans = (*drawing.spans, *stretch_on(damage, zones, "lamp"))
        drawing = replace(drawing, spans=spans)
    units = site.settings.units
    return DamagePage(
        heading_id=place.id,
        name=short(place.body.name),
        work=work,
        question=(
            question_of_correction(work, standard, state.face_m)
            if work.about.corrects
            else question_now(work, standard, near(site, work, known), state.face_m)
        ),
        rank=_shown(site, work, session),
        where=_where(damage, units) if damage else _at(work, site),
        told=seen_words(damage, units) if damage else "",
        drawing=drawing,
        place=middle_on(damage, zones) if damage else None,
        along_m=_along_m(damage),
        support_class=demanded,
        seen_before=next((it.observations for it in known if it.id == itself[0]), ()),
    )


def _along_m(damage: Damage | None) -> float:
    """Give how much of the drive shows a whole stretch, and what is about it; 0 at one place."""
    if damage is None or damage.to_m is None:
        return 0
    return float(damage.to_m - damage.chainage_m) + 2 * ABOUT_M


def _around(work: DamageWork, line_m: Decimal) -> tuple[Decimal, int]:
    """Give the chainage about which is drawn, and how far: with all of the stretch."""
    said_m = work.said.get("chainage_m") or work.said.get("near_m")
    if said_m is None:
        return line_m, FAR_M
    from_m = Decimal(str(said_m))
    half_m = (Decimal(str(work.said.get("to_m") or said_m)) - from_m) / 2
    return from_m + half_m, CLOSE_M + ceil(half_m)


def _shown(site: Site, work: DamageWork, session: Session | None) -> RankWords:
    """Say what it comes to so far: entry at once, the priority once it was judged or left open."""
    damage = work.damage
    if damage is None:
        return NOT_YET
    found = rank_words(site, preview(site, damage, session, work.about.corrects))
    judged = "severity" in work.said or work.said.get("again") is not None
    return found if judged else replace(found, title=_("not ranked yet"))


def near(site: Site, work: DamageWork, known: Sequence[DamageKnown]) -> tuple[Near, ...]:
    """Give the damage that may be the one that is seen again: its kind first, then the nearest."""
    said_m = work.said.get("chainage_m")
    if said_m is None:
        return ()
    at_m, units = Decimal(str(said_m)), site.settings.units
    kind, zone = work.said.get("kind"), work.said.get("zone")

    def how_far(it: DamageKnown) -> tuple[bool, Decimal, str]:
        return it.newest.kind != kind, abs(it.newest.chainage_m - at_m), it.id

    there = [
        it
        for it in known
        if abs(it.newest.chainage_m - at_m) <= NEAR_M and _may_be_there(it.newest.zone, zone)
    ]
    return tuple(
        Near(it.id, _(it.newest.kind), place_words(it.newest, units))
        for it in sorted(there, key=how_far)
    )


def _may_be_there(one: DamageZone, other: DamageZone | None) -> bool:
    """Tell whether two people may mean one place: the same zone, or the one beside it."""
    if other is None or one == other:
        return True
    return one in AROUND and other in AROUND and abs(AROUND.index(one) - AROUND.index(other)) == 1


def rank_words(site: Site, ranked: Ranked) -> RankWords:
    """Put a rank into words: priority and due date, entry beneath, and the reasons."""
    zone, units = ZoneInfo(site.settings.zone), site.settings.units
    reasons = tuple(_(in_units(reason, units)) for reason in _entry_first(ranked))
    return RankWords(
        title=f"{ranked.code}, {due_words(ranked, zone)}",
        state=holds_words(ranked),
        verdict=MARKS[ranked.holds],
        reasons=reasons,
        lead=reasons[0].partition(": ")[0] if _by_a_limit(ranked) else "",
    )


def _entry_first(ranked: Ranked) -> tuple[str, ...]:
    """Give the reasons, what makes entry what it is before what only ranks."""
    limits = tuple(it.because for it in ranked.beneath)
    held = tuple(it.because for it in ranked.beneath if it.holds == ranked.holds)
    rest = (it for it in ranked.because if it not in limits)
    return (*held, *rest, *(it for it in limits if it not in held))


def _by_a_limit(ranked: Ranked) -> bool:
    """Tell whether entry is what a limit on holes or bagging makes it, not the table alone."""
    return any(it.holds == ranked.holds for it in ranked.beneath)


def _where(damage: Damage, units: Units) -> str:
    """Say where it is in the one line of a narrow head; how far aside, the drive shows."""
    return place_words(damage.model_copy(update={"s_m": None}), units)


def _at(work: DamageWork, site: Site) -> str:
    said = work.said.get("chainage_m")
    return chainage_words(Decimal(str(said)), site.settings.units) if said else ""


def _standard(site: Site) -> Standard | None:
    try:
        return in_force(site, site.now()).body
    except NoStandard:
        return None
