"""Damage on the way to being kept: the fold of its touches, each on the disk before it is shown.

A touch says some fields of the observation; the same field said again replaces what was said.
Killed half-way it comes back at the same place. Nothing of it counts before it is kept.
"""

from dataclasses import dataclass, replace
from datetime import datetime
from functools import cached_property
from typing import Any, Final, Literal

from pydantic import AwareDatetime

from fieldapp.work.damage.stating import NoSuchDamage, correction_entry, damage_entry
from fieldapp.work.damage_record import SeenDamage
from fieldapp.work.heading_record import heading_record
from fieldapp.work.headings import heading
from fieldapp.work.known import Known, one
from fieldapp.work.photo.photographs import photos_of
from fieldapp.work.place_chained import by_its_touches, touched_there
from fieldapp.work.rechaining import chained_now
from fieldapp.work.said_touches import Filled, SaidTouch, begun, put_touch
from fieldapp.work.site import Session, Site
from fieldapp.work.writing import new_thing_id
from schemas.bodies.damage import Damage
from schemas.part import Own

NEEDED: Final = ("kind", "chainage_m", "zone")
"""Without these nobody could find it: it can't be kept yet."""
NOT_OF_THE_BODY: Final = ("how", "near_m")
"""Said on the way: how it is read, written into each reading; and where to look for it."""
ANEW: Final = "anew"
"""A touch that says this takes back one thing that was stated: it is asked once more."""


class DamageAbout(Own):
    """What a draft of damage begins from."""

    draft: Literal["damage"]
    heading_id: str
    began: dict[str, Any]
    """What is known before the first touch: of damage seen again, where it is."""
    began_at: AwareDatetime
    """When it was seen."""
    corrects: str | None = None
    """Id of the observation that is put right; None: it is a new one."""
    chained_at: AwareDatetime | None = None
    """By which chainages it began, as far as this tablet knew."""

    @property
    def again(self) -> str | None:
        """Id of the damage that is seen again; None: it was begun as new."""
        again: str | None = self.began.get("again")
        return again


@dataclass(frozen=True)
class DamageWork(Filled[SaidTouch]):
    """One observation as it stands: what it began as, and every touch since."""

    damage_id: str
    """Of the draft, and of the new observation that it becomes."""
    about: DamageAbout
    touches: tuple[SaidTouch, ...] = ()

    @cached_property
    def said(self) -> dict[str, Any]:
        """Everything that stands: a field that is not in it was never answered."""
        said = dict(self.about.began)
        for touch in self.standing:
            if ANEW in touch.says:
                said = _without(said, touch.says[ANEW])
                continue
            extent = {**said.get("extent", {}), **touch.says.get("extent", {})}
            if "chainage_m" in touch.says:
                said.pop("to_m", None)  # it was the end of another stretch
            said |= touch.says
            if extent:
                said["extent"] = extent
        return said

    @property
    def observation_id(self) -> str:
        """Of the observation that it becomes, or that it puts right."""
        return self.about.corrects or self.damage_id

    @property
    def damage(self) -> Damage | None:
        """The observation; None while nobody could find it by what was said."""
        if any(self.said.get(name) is None for name in NEEDED):
            return None
        body = {name: it for name, it in self.said.items() if name not in NOT_OF_THE_BODY}
        body |= {"heading": self.about.heading_id, "seen_at": self.about.began_at}
        return Damage.model_validate({"chained_at": self.about.chained_at, **body})


def begun_damages(site: Site) -> tuple[DamageWork, ...]:
    """Give everything about damage that was begun here and is neither kept nor discarded."""
    return tuple(DamageWork(*it) for it in begun(site, "damage", DamageAbout, SaidTouch))


def begun_damage(site: Site, draft_id: str) -> DamageWork:
    """Give one that was begun here; it was not finished meanwhile, or that is a bug."""
    return next(it for it in begun_damages(site) if it.damage_id == draft_id)


def open_damage(
    site: Site, heading_id: str, *, again: str | None = None, corrects: str | None = None
) -> DamageWork | None:
    """Give what was begun in a heading: new damage, one seen again, or one that is put right."""
    found = (
        it
        for it in begun_damages(site)
        if it.about.heading_id == heading_id
        and it.about.corrects == corrects
        and (corrects is not None or again in (it.about.again, it.said.get("again")))
    )
    return next(found, None)


def begin_damage(site: Site, heading_id: str, again: str | None = None) -> DamageWork:
    """Go on with what is being recorded in a heading, or begin: on disk before this returns.

    Damage that is seen again begins where it is. What else was begun there waits.
    """
    place = heading(site, heading_id)
    going_on = open_damage(site, place.id, again=again)
    if going_on is not None:
        return going_on
    began = where_of(site, place.id, again) if again else {}
    return _begun(site, place.id, began, site.now())


def begin_damage_at(site: Site, heading_id: str, began: dict[str, Any]) -> DamageWork:
    """Begin another damage, of which this much is known; whatever else was begun waits."""
    return _begun(site, heading(site, heading_id).id, began, site.now())


def where_of(site: Site, heading_id: str, damage_id: str) -> dict[str, Any]:
    """Give what is known of damage before it is seen again; of one that is not here, nothing."""
    known = heading_record(site, heading_id).damages
    return next((_where(it) for it in known if it.id == damage_id), {})


def begin_correction(site: Site, observation_id: str) -> DamageWork:
    """Go on with putting one observation right, or begin with what was stated of it.

    Raises
    ------
    NoSuchDamage
        No observation has that id.
    """
    heads = one(site, "damage", Damage, observation_id)
    if not heads:
        raise NoSuchDamage(observation_id)
    body = heads[-1].body
    going_on = open_damage(site, body.heading, corrects=observation_id)
    if going_on is not None:
        return going_on
    of_the_draft = {"heading", "seen_at", "chained_at"}
    began = {**body.model_dump(mode="json", exclude=of_the_draft), "how": "eye"}
    return _begun(site, body.heading, began, body.seen_at, corrects=observation_id)


def keep_damage_touch(site: Site, work: DamageWork, touch: SaidTouch) -> DamageWork:
    """Put one touch on disk, then give the work that follows from it."""
    touch = touched_there(site, work.about.heading_id, touch)
    put_touch(site, work.damage_id, touch)
    return replace(work, touches=(*work.touches, touch))


def undo_damage(site: Site, work: DamageWork, by: str | None) -> DamageWork:
    """Take the last standing touch back; nothing to take back changes nothing."""
    if not work.can_undo:
        return work
    return keep_damage_touch(site, work, SaidTouch(at=site.now(), by=by, undone=True))


def keep_damage(site: Site, work: DamageWork, session: Session | None) -> Known[Damage]:
    """State it: the entry is there and the draft is closed, in one step.

    Raises
    ------
    DamageRefused, NoSuchDamage, NotYours
        As for `record_damage` and `correction_entry`; the draft stays as it was.
    PlaceInDoubt
        Chainages were measured anew meanwhile; the draft stays as it was.
    """
    damage = work.damage
    assert damage is not None  # noqa: S101 - the key is there once it can be found
    damage = by_its_touches(site, damage, work.standing, work.about.began_at)
    taken = (it.id for it in photos_of(site, work.observation_id))
    photos = tuple(dict.fromkeys((*damage.photos, *taken)))
    damage = damage.model_copy(update={"photos": photos})
    if work.about.corrects is not None:
        entry, body = correction_entry(site, work.about.corrects, damage, session)
    else:
        entry, body = damage_entry(site, damage, session, thing_id=work.damage_id)
    site.store.drafts.finish(work.damage_id, [entry])
    return Known(entry, body)


def let_go(site: Site, work: DamageWork) -> None:
    """Discard what was begun and is not to be kept."""
    site.store.drafts.finish(work.damage_id, [])


def _begun(
    site: Site,
    heading_id: str,
    began: dict[str, Any],
    seen_at: datetime,
    corrects: str | None = None,
) -> DamageWork:
    about = DamageAbout(
        draft="damage",
        heading_id=heading_id,
        began=began,
        began_at=seen_at,
        corrects=corrects,
        chained_at=chained_now(site, heading_id),
    )
    draft_id = new_thing_id(site)
    site.store.drafts.begin(draft_id, about.model_dump_json().encode())
    return DamageWork(draft_id, about)


def _without(said: dict[str, Any], name: str) -> dict[str, Any]:
    """Take back what was stated of one thing; of a reading, how it was read too."""
    extent = dict(said.get("extent", {}))
    gone = {name, "how"} if name in extent and name != "openings" else {name}
    extent.pop(name, None)
    return {**{it: said[it] for it in said if it not in gone}, "extent": extent}


def _where(damage: SeenDamage) -> dict[str, Any]:
    """Give what makes damage the same: where it begins and what it is; its size is read anew."""
    newest = max(damage.seen, key=lambda it: it.damage.seen_at).damage
    fields = {"kind", "chainage_m", "s_m", "zone", "exposure", "cause"}
    said = newest.model_dump(mode="json", include=fields, exclude_none=True)
    return {**said, "again": damage.id}
