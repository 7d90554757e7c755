"""Damage: stating what was seen, seeing it again, putting a record right."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from decimal import Decimal
from typing import Final
from zoneinfo import ZoneInfo

from fieldapp.assess.damage import Left, Ranked, extent_of, in_order, urgency
from fieldapp.assess.damage.observed import Observation
from fieldapp.assess.entry.damage import BEHIND_A_BARRIER
from fieldapp.work.authority import ENGINEER, INSPECTORS
from fieldapp.work.called import is_called
from fieldapp.work.damage_record import Judge, SeenDamage, judge, left
from fieldapp.work.heading_record import heading_record
from fieldapp.work.headings import heading, headings
from fieldapp.work.known import Known, current, one
from fieldapp.work.people import still_enrolled
from fieldapp.work.roles import NotYours, require
from fieldapp.work.said_on_walks import SaidOnWalk, said_on_walks
from fieldapp.work.site import Session, Sight, Site
from fieldapp.work.standard_in_force import NoStandard, in_force, revision_in_force
from fieldapp.work.writing import written
from schemas.bodies.damage import Damage, DecidedPriority
from schemas.bodies.heading import Heading
from schemas.bodies.rehab import Outcome, RehabState
from schemas.entry import Entry
from schemas.trouble import BadInput

BEYOND_THE_FACE_M = Decimal(1)
"""How far beyond the known face damage may be said to be: faces are ragged."""

BARRED: Final[tuple[RehabState, ...]] = (*BEHIND_A_BARRIER, "reopened")
"""Repairs within whose stretch nobody goes, whatever the damage by itself means for entry."""
UNTIL_VERIFIED: Final = "nobody beneath until its repair is verified"


@dataclass(eq=False)
class NoSuchDamage(BadInput):
    """No damage is known by that id."""

    name: str

    happened = "No damage here is known as {name}."
    kept = "Nothing was changed."
    do_next = "Look at the rehab list for its id, or read the label once more."


@dataclass(eq=False)
class DamageRefused(BadInput):
    """Damage can't be where, or what, it is said to be."""

    reason: str

    happened = "The damage was not kept: {reason}."
    kept = "What was entered stands as it was."
    do_next = "Put that right, then keep it again. No entry can be stated at once all the same."


@dataclass(frozen=True)
class DamageKnown:
    """One damage with what it means now."""

    heading_id: str
    heading: str
    damage: SeenDamage
    left: Left
    ranked: Ranked
    walked: tuple[SaidOnWalk, ...] = ()
    """What walks said of it since, the newest first."""

    @property
    def id(self) -> str:
        """Of its first observation."""
        return self.damage.id

    @property
    def observations(self) -> tuple[str, ...]:
        """The ids of everything that was seen of it, its own first: photos are of one of them."""
        return tuple(dict.fromkeys((self.id, *(it.id for it in self.damage.seen))))

    @property
    def newest(self) -> Damage:
        """As it was seen last."""
        return in_order(self.damage.seen)[-1].damage

    @property
    def outcome(self) -> Outcome | None:
        """Patched or restored; None while it is unrepaired."""
        return self.left.outcome

    @property
    def from_m(self) -> Decimal:
        """Where it begins."""
        return extent_of(self.damage.seen)[0]

    @property
    def to_m(self) -> Decimal:
        """Where it ends."""
        return extent_of(self.damage.seen)[1]


def record_damage(site: Site, damage: Damage, session: Session | None) -> Known[Damage]:
    """State what was seen. Anyone may: it only makes entry stricter.

    Raises
    ------
    NoSuchHeading
        There is no such heading.
    NoSuchDamage
        It names as seen again what is not known in that heading.
    DamageRefused
        It lies beyond the face, ends before it begins, or names what the standard doesn't have.
    """
    entry, body = damage_entry(site, damage, session)
    site.store.ledger.add([entry])
    return Known(entry, body)


def damage_entry(
    site: Site, damage: Damage, session: Session | None, *, thing_id: str | None = None
) -> tuple[Entry, Damage]:
    """Write what was seen without keeping it yet, refused like `record_damage` refuses it."""
    place = heading(site, damage.heading)
    said = {"heading": place.id, "again": _first_of(site, place.id, damage.again)}
    if damage.standard is None:
        said["standard"] = revision_in_force(site)
    body = damage.model_copy(update=said)
    _refuse(site, body)
    author = session.person_id if session else None
    return written(site, "damage", body, author=author, thing_id=thing_id), body


def correction_entry(
    site: Site, observation_id: str, corrected: Damage, session: Session | None
) -> tuple[Entry, Damage]:
    """Write what is right of one observation without keeping it yet; what was said stays too.

    Raises
    ------
    NotYours
        A supervisor, technician or engineer corrects.
    NoSuchDamage, DamageRefused
        As for `record_damage`.
    """
    act = "correct what was seen of damage"
    if session is None:
        raise NotYours("Whoever is not signed in", act, " or ".join(INSPECTORS))
    session = still_enrolled(site, session)
    require(session, *INSPECTORS, act=act)
    heads = one(site, "damage", Damage, observation_id)
    if not heads:
        raise NoSuchDamage(observation_id)
    _refuse(site, corrected)
    author, parents = session.person_id, tuple(it.entry.revision for it in heads)
    entry = written(
        site, "damage", corrected, author=author, thing_id=observation_id, parents=parents
    )
    return entry, corrected


def decide_priority(
    site: Site, damage_id: str, decided: DecidedPriority, session: Session
) -> Known[Damage]:
    """Decide, as an engineer, how soon a damage is repaired in place of the table, and why.

    It holds until somebody sees the damage again. Holes and bagging keep people out all the same.

    Raises
    ------
    NotYours
        Only a geotechnical engineer decides.
    DamageRefused
        The standard has no such priority.
    """
    session = still_enrolled(site, session)
    require(session, *ENGINEER, act="decide on a priority")
    known = damage_known(site, damage_id, site.now())
    place = {"heading", "chainage_m", "to_m", "s_m", "zone", "kind"}
    said = known.newest.model_dump(include=place)
    body = Damage.model_validate(
        {**said, "seen_at": site.now(), "again": known.id, "decided": decided}
    )
    return record_damage(site, body, session)


def damages(site: Sight, at: datetime, heading_id: str | None = None) -> tuple[DamageKnown, ...]:
    """Give all damage, or a heading's, the most urgent first; what is restored at the end."""
    places = [heading(site, heading_id)] if heading_id else headings(site)
    found = [it for place in places for it in _of_heading(site, place, at)]
    order = sorted(found, key=lambda it: (it.heading, it.from_m, it.id))
    return tuple(sorted(order, key=lambda it: (it.outcome == "restored", urgency(it.ranked))))


def damage_known(site: Sight, name: str, at: datetime) -> DamageKnown:
    """Find a damage by its id or short id, or by that of any observation of it.

    Raises
    ------
    NoSuchDamage
        Nothing, or more than one damage, is known so.
    """
    fits = [it for it in damages(site, at) if _is_called(it.damage, name)]
    if len(fits) != 1:
        raise NoSuchDamage(name)
    return fits[0]


def preview(
    site: Site, damage: Damage, by: Session | None = None, corrects: str | None = None
) -> Ranked:
    """Rank what is about to be kept, with what else was seen of it: shown, not kept."""
    now = site.now().astimezone(ZoneInfo(site.settings.zone))
    place = heading(site, damage.heading)
    engineer = by is not None and by.has("geotechnical engineer")
    seen = [Observation("about to be kept", damage, engineer)]
    record = heading_record(site, place.id)
    for known in record.damages:
        if known.id in (damage.again, corrects):
            seen += (it for it in left(known, record.rehabs).seen if it.id != corrects)
    return _judge(site, place.body, now).ranked(seen, now)


def _of_heading(site: Sight, place: Known[Heading], at: datetime) -> Iterator[DamageKnown]:
    record = heading_record(site, place.id)
    now = at.astimezone(ZoneInfo(site.settings.zone))
    by, said = _judge(site, record.place, at), said_on_walks(site, place.id)
    for damage in record.damages:
        remains = left(damage, record.rehabs)
        ranked = by.ranked_now(damage, remains, now)
        if remains.patched:
            ranked = _under_a_patch(ranked, by)
        ids = {damage.id, *(it.id for it in damage.seen)}
        if any(it.rehab.state in BARRED and ids & {*it.rehab.damages} for it in record.rehabs):
            ranked = replace(ranked, holds="no entry", entry=UNTIL_VERIFIED)
        walked = tuple(one for it in ids for one in said.get(it, ()))
        newest_first = tuple(sorted(walked, key=lambda one: one.at, reverse=True))
        yield DamageKnown(place.id, place.body.name, damage, remains, ranked, newest_first)


def _under_a_patch(ranked: Ranked, by: Judge) -> Ranked:
    rule = by.standard.rehab if by.standard else None
    if rule is None:
        return ranked
    return replace(ranked, holds=rule.patched_holds, entry="patched, to be restored")


def _judge(site: Sight, place: Heading, at: datetime) -> Judge:
    return judge(site, place.support_class, at)


def _first_of(site: Site, heading_id: str, again: str | None) -> str | None:
    """Give the damage that an observation names, whichever observation of it was named."""
    if again is None:
        return None
    for it in current(site, "damage", Damage, heading=heading_id):
        if again in (it.id, it.body.again):
            return it.body.again or it.id
    raise NoSuchDamage(again)


def _is_called(damage: SeenDamage, name: str) -> bool:
    return any(is_called(it, name) for it in (damage.id, *(one.id for one in damage.seen)))


def _refuse(site: Site, damage: Damage) -> None:
    reason = _place_refused(site, damage) or _codes_refused(site, damage)
    if reason:
        raise DamageRefused(reason)


def _place_refused(site: Site, damage: Damage) -> str | None:
    face_m = heading_record(site, damage.heading).face_m
    if damage.to_m is not None and damage.to_m < damage.chainage_m:
        return f"it would end at {damage.to_m} m, before it begins at {damage.chainage_m} m"
    if max(damage.chainage_m, damage.to_m or damage.chainage_m) > face_m + BEYOND_THE_FACE_M:
        return f"the face is at {face_m} m, outbye of it"
    if damage.seen_at > site.now():
        return "it would have been seen later than now"
    return None


def _codes_refused(site: Site, damage: Damage) -> str | None:
    try:
        standard = in_force(site, site.now()).body
    except NoStandard:
        return None
    severities = [it.code for it in standard.severities]
    exposures = [it.code for it in standard.exposures]
    if damage.severity is not None and severities and damage.severity not in severities:
        return f"{standard.name} has no severity {damage.severity}"
    priorities = [it.code for it in standard.priorities]
    if damage.decided is not None and damage.decided.priority not in priorities:
        return f"{standard.name} has no priority {damage.decided.priority}"
    if damage.exposure is not None and exposures and damage.exposure not in exposures:
        return f"{standard.name} has no exposure {damage.exposure}"
    return None
