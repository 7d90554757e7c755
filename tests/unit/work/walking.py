"""A condition walk for tests: somebody walks a heading of the demo mine, touch by touch."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from fieldapp.work.demo.story import MAIN
from fieldapp.work.known import Known
from fieldapp.work.walk.draft import WalkWork, begin_walk, keep_walk_touch, touch_of
from fieldapp.work.walk.now import WalkNow, walk_now
from fieldapp.work.walk.plan import WalkPlan, plan_of_month, this_month
from fieldapp.work.walk.section_work import Place, SectionWork
from fieldapp.work.walk.things import Here
from fieldapp.work.walk.walks import record_walk
from schemas.bodies.damage import DamageZone
from schemas.bodies.walk import Walk
from tests.unit.work.conftest import Shift

TECHNICIAN = "Geotechnical technician"
FIRST: Place = Decimal(0), Decimal(10)
SECOND: Place = Decimal(10), Decimal(20)


def plan_of(shift: Shift, heading: str = MAIN) -> WalkPlan:
    place = shift.place(heading)
    return plan_of_month(shift.site, place.id, this_month(shift.site))


def begun(shift: Shift, who: str = TECHNICIAN) -> WalkWork:
    return begin_walk(shift.site, shift.place(MAIN).id, shift.who(who))


def told(
    shift: Shift, work: WalkWork, place: Place, *says: Mapping[str, Any], who: str = TECHNICIAN
) -> WalkWork:
    for it in says:
        work = keep_walk_touch(
            shift.site, work, touch_of(shift.site, shift.who(who), place, dict(it))
        )
    return work


def now(shift: Shift, work: WalkWork) -> WalkNow:
    return walk_now(shift.site, work, plan_of(shift))


def touched(shift: Shift, work: WalkWork, *labels: str) -> WalkWork:
    """Touch one chip after the other, of whatever is asked at the section at hand."""
    for label in labels:
        at = now(shift, work)
        assert at.asked is not None
        assert at.at is not None
        choices = {it.label: it for it in at.asked.choices}
        place = at.at.section.from_m, at.at.section.to_m
        work = told(shift, work, place, choices[label].says)
    return work


def section(**said: Any) -> dict[str, Any]:
    """Give one section of a walk as it is written down."""
    return {
        "from_m": "130",
        "to_m": "140",
        "at": "2031-05-06T09:00:00Z",
        "answer": "nothing new",
    } | said


def walk(*sections: Mapping[str, Any], **said: Any) -> Walk:
    """Give a walk of an hour that has just ended."""
    body = {
        "heading": MAIN,
        "month": "2031-05",
        "began_at": "2031-05-06T08:30:00Z",
        "ended_at": "2031-05-06T09:30:00Z",
        "sections": list(sections) or [section()],
    }
    return Walk.model_validate(body | said)


def recorded(shift: Shift, *sections: Mapping[str, Any], **said: Any) -> Known[Walk]:
    return record_walk(shift.site, walk(*sections, **said), shift.who(TECHNICIAN))


def here(shift: Shift, *in_full: DamageZone, photo: bool = False) -> Here:
    at = now(shift, begun(shift)).here
    assert at is not None
    return Here(at.standard, at.demanded, at.exposure, in_full=in_full, photo=photo, damages={})


def alone(*says: Mapping[str, Any], at: Place = FIRST) -> SectionWork:
    """Give a section of which so much was said, with no draft around it."""
    from tests.demo_mine import PRESENT

    found = SectionWork(*at)
    for it in says:
        found = found.told(dict(it), PRESENT)
    return found
