"""Repairs: planned, begun behind a barrier, done, and verified by somebody else.

A repair is one thing with revisions. From its start until it is verified its stretch is
barricaded. Whoever did the work never verifies it.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from zoneinfo import ZoneInfo

from fieldapp.assess.damage import done_of
from fieldapp.assess.times import time_words
from fieldapp.work.authority import ENGINEER, INSPECTORS
from fieldapp.work.damage.stating import DamageKnown, NoSuchDamage, damages
from fieldapp.work.damage_record import observations_of
from fieldapp.work.known import Known, current
from fieldapp.work.people import still_enrolled
from fieldapp.work.photo.before import there_by
from fieldapp.work.photo.photographs import photos_of
from fieldapp.work.rehab.revisions import anew, entry_of, kept, standing
from fieldapp.work.rehab.troubles import (
    BarrierFirst,
    DoneElsewhere,
    PhotoFromBefore,
    PhotoOrWhy,
)
from fieldapp.work.rehab.verified import proof_of
from fieldapp.work.roles import require
from fieldapp.work.site import Session, Site
from fieldapp.work.standard_in_force import revision_in_force
from fieldapp.work.writing import written
from schemas.bodies.person import Role
from schemas.bodies.rehab import MOST_PHOTOS, Barricade, Outcome, Rehab, RehabState

OF_WORK_DONE = (
    "finished_at",
    "outcome",
    "bolts_added",
    "materials",
    "lap_openings",
    "done_from_m",
    "done_to_m",
    "after",
    "no_photo_because",
    "older_photo_because",
    "refused_because",
)
WORKERS: tuple[Role, ...] = ("rehab crew", "bolter", *INSPECTORS)
"""Who repairs."""


@dataclass(frozen=True)
class Done:
    """What a crew says of the work that it did."""

    outcome: Outcome
    bolts_added: int | None = None
    materials: tuple[str, ...] = ()
    lap_openings: int | None = None
    part: tuple[Decimal, Decimal] | None = None
    """From and to, where not all of it was done."""
    after: tuple[str, ...] = ()
    """Ids of photos; those that were kept since the work was begun, where none is named."""
    no_photo_because: str = ""
    """Why there is none."""
    older_photo_because: str = ""
    """Why photos from before the work was begun show it all the same."""
    installers: tuple[str, ...] = ()
    """Ids of those who did the work beside whoever says so."""


def propose(site: Site, rehab: Rehab, session: Session) -> Known[Rehab]:
    """Propose a repair and its order of work: nothing is begun before an engineer has planned it.

    Raises
    ------
    NotYours
        A supervisor, technician or engineer proposes.
    NoSuchDamage
        It names damage that is not known there.
    """
    session = still_enrolled(site, session)
    require(session, *INSPECTORS, act="propose a repair")
    return kept(site, _of_known_damage(site, rehab, "proposed"), session, None)


def plan(site: Site, rehab: Rehab, session: Session) -> Known[Rehab]:
    """Plan a repair of damage in one heading: the engineer decides on the order of work.

    Where a repair of such damage was proposed, the plan takes the proposal's place.

    Raises
    ------
    NotYours
        Only a geotechnical engineer plans; others propose.
    NoSuchDamage
        It names damage that is not known there.
    """
    session = still_enrolled(site, session)
    require(session, *ENGINEER, act="decide on the order of work of a repair")
    planned = _of_known_damage(site, rehab, "planned")
    every = current(site, "rehab", Rehab, heading=rehab.heading)
    proposed = (it for it in every if it.body.state == "proposed")
    same = (it for it in proposed if set(it.body.damages) & set(rehab.damages))
    return kept(site, planned, session, next(same, None))


def _of_known_damage(site: Site, rehab: Rehab, state: RehabState) -> Rehab:
    known = {it.id for it in damages(site, site.now(), rehab.heading)}
    for damage_id in rehab.damages:
        if damage_id not in known:
            raise NoSuchDamage(damage_id)
    return rehab.model_copy(update={"state": state, "standard": revision_in_force(site)})


def plan_of(
    damage: DamageKnown, order_of_work: str = "", further: Sequence[DamageKnown] = ()
) -> Rehab:
    """Give the plan to repair one damage, and further ones of its heading together with it."""
    every = (damage, *further)
    return Rehab(
        heading=damage.heading_id,
        damages=tuple(it.id for it in every),
        from_m=min(it.from_m for it in every),
        to_m=max(it.to_m for it in every),
        zones=tuple(dict.fromkeys(it.damage.zone for one in every for it in one.damage.seen)),
        order_of_work=order_of_work,
        state="planned",
    )


def start(
    site: Site, rehab_id: str, session: Session, *, barricade: Barricade | None, crew: str = ""
) -> Known[Rehab]:
    """Begin, or begin again what was refused or reopened: the barrier stands before that.

    Raises
    ------
    BarrierFirst
        Nobody said who put up the barrier and where.
    NotInThatState, NotYours
        It is being done or was done already; a crew, supervisor, technician or engineer begins.
    """
    session = still_enrolled(site, session)
    require(session, *WORKERS, act="begin a repair")
    before = standing(site, rehab_id, "begun", "planned", "refused", "reopened")
    if barricade is None:
        raise BarrierFirst(f"{before.body.from_m}", f"{before.body.to_m}")
    said = {
        "state": "in hand",
        "barricade": barricade,
        "crew": crew or before.body.crew,
        "installers": _with(before.body.installers, session.person_id),
        "started_at": site.now(),
        "before": _newest(dict.fromkeys((*before.body.before, *_photos(site, before)))),
    }
    return kept(site, anew(before.body, _as_begun(before.body) | said), session, before)


def _as_begun(rehab: Rehab) -> dict[str, object]:
    """Give what is known of work that is begun: of what was done before nothing counts.

    What was left of it when a part was done has become a repair of its own.
    """
    from_m, to_m = done_of(rehab)
    blank = {name: Rehab.model_fields[name].get_default() for name in OF_WORK_DONE}
    return {**blank, "from_m": from_m, "to_m": to_m}


def finish(site: Site, rehab_id: str, session: Session, done: Done) -> Known[Rehab]:
    """State that the work is done, or a part of it: what is left becomes a repair of its own.

    Raises
    ------
    DoneElsewhere
        The part done lies outside of the repair.
    PhotoOrWhy, PhotoFromBefore
        No photo shows what was done, and nobody said why there is none.
    NotInThatState, NotYours
        It is not in hand; a crew, supervisor, technician or engineer states it.
    """
    session = still_enrolled(site, session)
    require(session, *WORKERS, act="say that a repair is done")
    before = standing(site, rehab_id, "said to be done", "in hand")
    from_m, to_m = done.part or (before.body.from_m, before.body.to_m)
    if not before.body.from_m <= from_m <= to_m <= before.body.to_m:
        raise DoneElsewhere(f"{from_m} to {to_m}", f"{before.body.from_m} to {before.body.to_m}")
    after = _after(site, before, done)
    if not (after or done.no_photo_because):
        raise PhotoOrWhy(f"{from_m}", f"{to_m}")
    said = {
        "state": "done",
        "outcome": done.outcome,
        "bolts_added": done.bolts_added,
        "materials": done.materials,
        "lap_openings": done.lap_openings,
        "done_from_m": from_m if done.part else None,
        "done_to_m": to_m if done.part else None,
        "after": after,
        "no_photo_because": None if after else done.no_photo_because,
        "older_photo_because": (after and done.older_photo_because) or None,
        "installers": _with(before.body.installers, session.person_id, *done.installers),
        "finished_at": site.now(),
    }
    entry = entry_of(site, anew(before.body, said), session, before)
    entries = [entry]
    for rest in _rest(site, before, (from_m, to_m)):
        author, last = session.person_id, entries[-1]
        entries.append(written(site, "rehab", rest, author=author, after=last))
    site.store.ledger.add(entries)
    return Known(entry, Rehab.model_validate(dict(entry.body)))


def _rest(site: Site, before: Known[Rehab], part: tuple[Decimal, Decimal]) -> list[Rehab]:
    """Give what is left of a repair on either side of the part that was done."""
    whole, (from_m, to_m) = before.body, part
    sides = ((whole.from_m, from_m), (to_m, whole.to_m))
    known = damages(site, site.now(), whole.heading)
    found = []
    for begins_m, ends_m in sides:
        there = [it.id for it in known if it.to_m > begins_m and it.from_m < ends_m]
        left = tuple(it for it in whole.damages if it in there) or whole.damages
        if begins_m < ends_m:
            said = {
                "state": "planned",
                "parent": before.id,
                "from_m": begins_m,
                "to_m": ends_m,
                "damages": left,
            }
            same = {"heading", "zones", "order_of_work", "crew", "standard"}
            found.append(Rehab.model_validate(whole.model_dump(include=same) | said))
    return found


def _photos(site: Site, known: Known[Rehab]) -> tuple[str, ...]:
    """Give the ids of the photos of a repair, and of what it repairs, that are kept by now."""
    things = (known.id, *observations_of(site, known.body))
    return _newest(it.id for it in photos_of(site, *things))


def _after(site: Site, before: Known[Rehab], done: Done) -> tuple[str, ...]:
    """Give the ids of the photos that show what was done; none where nobody took any."""
    proof = proof_of(site, before.id, before.body, done.after)
    after = proof.every if done.older_photo_because else proof.shows
    named = (it for it in photos_of(site, before.id) if it.id in done.after)
    older = proof.older or tuple(named)  # what it names from before is older as well
    if older and not (after or done.no_photo_because):
        zone, begun = ZoneInfo(site.settings.zone), before.body.started_at
        assert begun is not None  # noqa: S101 - older than that is what they are
        raise PhotoFromBefore(
            *(time_words(it.astimezone(zone)) for it in (there_by(older[-1]), begun))
        )
    return _newest(after)


def _newest(photos: Iterable[str]) -> tuple[str, ...]:
    return tuple(photos)[-MOST_PHOTOS:]


def _with(installers: tuple[str, ...], *more: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys((*installers, *more)))
