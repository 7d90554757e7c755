"""A condition walk on its way to being kept: the fold of its touches.

Each is on the disk before it is shown. Killed half-way it comes back at the same section; nothing
of it counts before the walk is ended.
"""

from dataclasses import dataclass, replace
from decimal import Decimal
from functools import cached_property
from typing import Any, Final, Literal

from pydantic import AwareDatetime

from fieldapp.work.headings import heading
from fieldapp.work.said_touches import Filled, SaidTouch, begun, put_touch
from fieldapp.work.site import Session, Site
from fieldapp.work.walk.plan import this_month
from fieldapp.work.walk.section_work import Place, SectionWork
from fieldapp.work.walk.walks import may_walk
from fieldapp.work.writing import new_thing_id
from schemas.bodies.walk import LookedAt
from schemas.numbers import text
from schemas.part import Own

SAMPLE: Final = "sample"
"""What a touch says of a drawn sample; every other touch speaks of a section."""


class WalkTouch(SaidTouch):
    """What one touch said of one section; nothing: somebody went there."""

    place: tuple[str, str] | None = None
    """From and to which chainage the section reaches, in metres; None: it is of a sample."""


class WalkAbout(Own):
    """What a draft of a walk begins from."""

    draft: Literal["walk"]
    heading_id: str
    month: str
    began_at: AwareDatetime


@dataclass(frozen=True)
class WalkWork(Filled[WalkTouch]):
    """One outing as it stands: what it began as, and every touch since."""

    walk_id: str
    about: WalkAbout
    touches: tuple[WalkTouch, ...] = ()

    @cached_property
    def sections(self) -> dict[Place, SectionWork]:
        """What was said of each section, in the order in which they were first touched."""
        found: dict[Place, SectionWork] = {}
        for touch in self.standing:
            if touch.place is not None:
                place = _place(touch)
                before = found.get(place, SectionWork(*place))
                found[place] = before.told(touch.says, touch.at)
        return found

    @property
    def at(self) -> Place | None:
        """The section that was touched last; None before the first."""
        places = [_place(it) for it in self.standing if it.place is not None]
        return places[-1] if places else None

    @property
    def looked_at(self) -> tuple[LookedAt, ...]:
        """What was said of drawn samples, each as it was said last."""
        said = (it.says[SAMPLE] for it in self.standing if SAMPLE in it.says)
        by_stratum = {(it["of"], it["stratum"]): it for it in said}
        return tuple(LookedAt.model_validate(it) for it in by_stratum.values())

    def section(self, place: Place) -> SectionWork:
        """Give what was said of a section so far."""
        return self.sections.get(place) or SectionWork(*place)


def open_walk(site: Site, heading_id: str) -> WalkWork | None:
    """Give the walk that was begun here in a heading and is neither ended nor discarded."""
    return next((it for it in begun_walks(site) if it.about.heading_id == heading_id), None)


def begun_walks(site: Site) -> tuple[WalkWork, ...]:
    """Give every walk that was begun here and is neither ended nor discarded."""
    return tuple(WalkWork(*it) for it in begun(site, "walk", WalkAbout, WalkTouch))


def begin_walk(site: Site, heading_id: str, session: Session | None) -> WalkWork:
    """Go on with the walk of a heading, or begin one: on disk before this returns.

    Raises
    ------
    NotYours
        A technician, engineer or supervisor walks.
    """
    place = heading(site, heading_id)
    may_walk(site, session)
    going_on = open_walk(site, place.id)
    if going_on is not None:
        return going_on
    now = site.now()
    about = WalkAbout(draft="walk", heading_id=place.id, month=this_month(site), began_at=now)
    walk_id = new_thing_id(site)
    site.store.drafts.begin(walk_id, about.model_dump_json().encode())
    return WalkWork(walk_id, about)


def keep_walk_touch(site: Site, work: WalkWork, touch: WalkTouch) -> WalkWork:
    """Put one touch on disk, then give the work that follows from it."""
    put_touch(site, work.walk_id, touch)
    return replace(work, touches=(*work.touches, touch))


def touch_of(
    site: Site, session: Session | None, place: Place | None, says: dict[str, Any] | None = None
) -> WalkTouch:
    """Give what somebody touches now; one that says nothing goes to the section."""
    written = None if place is None else (text(place[0]), text(place[1]))
    by = session.person_id if session else None
    return WalkTouch(at=site.now(), by=by, place=written, says=says or {})


def undo_walk(site: Site, work: WalkWork, by: str | None) -> WalkWork:
    """Take the last standing touch back; nothing to take back changes nothing."""
    if not work.can_undo:
        return work
    return keep_walk_touch(site, work, WalkTouch(at=site.now(), by=by, undone=True))


def let_walk_go(site: Site, work: WalkWork) -> None:
    """Discard what was begun and is not to be kept."""
    site.store.drafts.finish(work.walk_id, [])


def _place(touch: WalkTouch) -> Place:
    assert touch.place is not None  # noqa: S101 - asked for by the callers
    from_m, to_m = touch.place
    return Decimal(from_m), Decimal(to_m)
