"""Damage that is recorded on the spot, in the middle of a walk: it begins where that stands."""

from typing import Any

from fieldapp.work.damage.draft import begin_damage_at, begun_damages, where_of
from fieldapp.work.site import Session, Site
from fieldapp.work.walk.draft import keep_walk_touch, touch_of
from fieldapp.work.walk.grave import thin_words
from fieldapp.work.walk.now import WalkNow
from fieldapp.work.walk.section_work import OF, SectionWork
from fieldapp.work.walk.things import BECAUSE_OF, Wanted, because_of, damage_wanted
from schemas.bodies.walk import SteelRead
from schemas.numbers import text


def begin_damage_of_walk(site: Site, now: WalkNow, session: Session | None) -> str:
    """Begin the damage that is wanted at the section at hand, or go on with it; give its id.

    Its draft, and its place in the walk, are on disk before this returns. The walk asks for it
    until it is kept.
    """
    assert now.at is not None  # noqa: S101 - it is asked for at a section
    assert now.here is not None  # noqa: S101
    section = now.work.section((now.at.section.from_m, now.at.section.to_m))
    wanted = damage_wanted(section, now.here)
    assert wanted is not None  # noqa: S101 - the key is there only then
    known = section.things[wanted.nth].get("damage") if wanted.nth is not None else None
    if known in {it.damage_id for it in begun_damages(site)}:
        return str(known)
    again = section.things[wanted.nth].get("again") if wanted.nth is not None else None
    heading_id = now.work.about.heading_id
    began = where_of(site, heading_id, again) if again else _began_by(section, wanted)
    draft_id = begin_damage_at(site, heading_id, began).damage_id
    says = _says(wanted, draft_id)
    keep_walk_touch(site, now.work, touch_of(site, session, section.place, says))
    return draft_id


def _says(wanted: Wanted, draft_id: str) -> dict[str, Any]:
    if wanted.nth is not None:
        return {"nth": wanted.nth, "more": {"damage": draft_id}}
    thing = {OF: "damage", "zone": wanted.zone, "damage": draft_id}
    return {"thing": thing | ({BECAUSE_OF: because_of(wanted.grave)} if wanted.grave else {})}


def _began_by(section: SectionWork, wanted: Wanted) -> dict[str, Any]:
    """Give what is known of the damage by what was just said of the place."""
    if wanted.thin is not None:
        return _began_by_thin(wanted.thin)
    if wanted.nth is not None:
        return _began(section.things[wanted.nth], section)
    grave = wanted.grave
    assert grave is not None  # noqa: S101 - damage is wanted because of it
    part = grave.part.model_dump(mode="json")
    began = _began(part, section)
    if grave.kind is None:
        return began
    depth = {"value_mm": part["bag_depth_mm"], "how": "eye"}
    return {**began, "kind": grave.kind, "extent": {"bag_depth": depth}, "how": "eye"}


def _began(thing: dict[str, Any], section: SectionWork) -> dict[str, Any]:
    """Give what is said of a thing; where it is exactly is asked, if nobody said so."""
    known = ("zone", "chainage_m", "s_m", "severity")
    began = {name: thing[name] for name in known if thing.get(name)}
    middle_m = (section.from_m + section.to_m) / 2
    return began if "chainage_m" in began else {**began, "near_m": text(middle_m)}


def _began_by_thin(read: SteelRead) -> dict[str, Any]:
    """Give what a reading says of the damage that it is; its size is that of the steel."""
    known = {"zone": read.zone, "chainage_m": text(read.chainage_m), "kind": "rusted"}
    known |= {"cause": "rust", "note": thin_words(read)}
    return known if read.s_m is None else known | {"s_m": text(read.s_m)}
