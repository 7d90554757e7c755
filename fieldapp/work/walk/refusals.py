"""Why a walk can't be kept as it is: what it says can't be, or would be lost in it."""

from collections.abc import Iterator
from typing import Final
from zoneinfo import ZoneInfo

from fieldapp.work.damage.stating import BEYOND_THE_FACE_M
from fieldapp.work.heading_record import heading_record
from fieldapp.work.known import current
from fieldapp.work.rounds import rounds
from fieldapp.work.site import Site
from fieldapp.work.standard_in_force import NoStandard, in_force, of_revision
from fieldapp.work.walk.grave import graves, places_apart, thin_words, thin_zones
from fieldapp.work.walk.movement import last_at, too_far
from fieldapp.work.walk.section_history import ground_today, looks
from fieldapp.work.walk.steel_before import doubt, last_there, steel_before
from fieldapp.work.walk.steel_questions import thicker_than_new
from fieldapp.work.walk.supported_ground import restored
from schemas.bodies.damage import Damage
from schemas.bodies.walk import LookedAt, SectionSeen, Walk
from schemas.numbers import text
from schemas.standard import Standard

_AGAIN: Final = "read it again, and keep it so (read_twice) where that is right"


def refusal(site: Site, walk: Walk) -> str | None:
    """Give the first reason why a walk can't be; None where it can."""
    return next(_reasons(site, walk), None)


def grave_without_damage(site: Site, walk: Walk) -> str | None:
    """Say where something is too grave by the standard while no damage is recorded for it."""
    place, standard = heading_record(site, walk.heading).place, _standard(site)
    demanded = standard.support_class(place.support_class) if standard else None
    kept = _damages(site, walk)
    for section in walk.sections:
        recorded = [kept[it].zone for it in section.damages if it in kept]
        found = graves(section, standard, demanded, place.exposure)
        for it in found:
            zone = it.part.zone
            if recorded.count(zone) < places_apart(found, zone):
                return f"{_named(section)}, {zone} holds entry ({it.holds})"
        for zone, read in thin_zones(section, standard).items():
            if zone not in recorded:
                return f"{_named(section)}, {zone}: {thin_words(read)}"
    return None


def _reasons(site: Site, walk: Walk) -> Iterator[str]:
    standard = _standard(site)
    if walk.standard is not None and of_revision(site, walk.standard) is None:
        yield "the revision of the standard that it was walked by is not known here"
    yield from _of_times(site, walk)
    yield from _of_places(site, walk)
    yield from _of_installation(site, walk)
    for section in walk.sections:
        yield from _of_answer(section)
        yield from _of_readings(section)
        yield from _out_of_reason(site, walk, section, standard)
        yield from _of_codes(section, standard)
    kept = _damages(site, walk)
    for section in walk.sections:
        for damage in (*section.damages, *(it.damage for it in section.open_damage)):
            if damage not in kept:
                yield f"{_named(section)} names damage that is not known in this heading"
    for sample in walk.looked_at:
        yield from _of_sample(sample)


def _of_times(site: Site, walk: Walk) -> Iterator[str]:
    if walk.ended_at > site.now():
        yield "it would end later than now"
    if walk.ended_at < walk.began_at:
        yield "it would end before it began"
    for section in walk.sections:
        if not walk.began_at <= section.at <= walk.ended_at:
            yield f"{_named(section)} was seen outside the time of the walk"


def _of_places(site: Site, walk: Walk) -> Iterator[str]:
    face_m = heading_record(site, walk.heading).face_m
    before = None
    for section in sorted(walk.sections, key=lambda it: it.from_m):
        if section.to_m <= section.from_m:
            yield f"{_named(section)} has no length"
        if section.from_m + (walk.rechained_by_m or 0) < 0:
            yield f"{_named(section)} lies outbye of where the heading begins"
        if ground_today(site, walk, section).to_m > face_m + BEYOND_THE_FACE_M:
            yield f"{_named(section)} lies beyond the face at {text(face_m)} m"
        if before is not None and section.from_m < before.to_m:
            yield f"{_named(section)} and {_named(before)} are partly the same ground"
        before = section
        places = (
            *(it.chainage_m for it in section.parts),
            *(it.chainage_m for it in section.steel),
            *(it.chainage_m for it in section.distances),
        )
        for at_m in places:
            if at_m is not None and not section.from_m <= at_m <= section.to_m:
                yield f"something at {text(at_m)} m is not in {_named(section)}"


def _of_installation(site: Site, walk: Walk) -> Iterator[str]:
    """Yield the sections that were seen before their support was put up, as rounds tell it."""
    known = [it.body for it in rounds(site, walk.heading)]
    for section in walk.sections:
        later = (it.joint_m for it in known if (it.fired_at or it.started_at) > section.at)
        supported_m = min(later, default=None)
        if supported_m is None:
            continue
        if ground_today(site, walk, section).to_m > supported_m + BEYOND_THE_FACE_M:
            yield (
                f"{_named(section)} was seen before its support was put up: "
                f"it ended at {text(supported_m)} m then"
            )


def _of_answer(section: SectionSeen) -> Iterator[str]:
    told = (section.parts, section.zones, section.steel, section.distances, section.damages)
    if section.answer == "not reached":
        if section.not_reached is None:
            yield f"{_named(section)} could not be reached, and it is not said why"
        if any((*told, section.in_full)):
            yield f"{_named(section)} could not be reached, and something was seen there"
    elif section.answer == "something new" and not any((*told, section.note, section.unanswered)):
        yield f"{_named(section)} has something new, and it is not said what"


def _of_readings(section: SectionSeen) -> Iterator[str]:
    for read in section.steel:
        if thicker_than_new(read):
            yield (
                f"{text(read.read_mm)} mm read in {_named(section)} is thicker than new, "
                f"{text(read.original_mm)} mm"
            )


def _out_of_reason(
    site: Site, walk: Walk, section: SectionSeen, standard: Standard | None
) -> Iterator[str]:
    """Yield what nobody who reads with care would keep without a second look."""
    if not section.steel and not section.distances:
        return
    ground = ground_today(site, walk, section)
    earlier = [it for it in looks(site, walk.heading, ground) if it.seen.at < section.at]
    newest = sorted(earlier, key=lambda it: it.seen.at, reverse=True)
    for distance in section.distances:
        far = too_far(distance, last_at(newest, distance))
        if far is not None:
            yield f"{distance.station} in {_named(section)} was read {far}; {_AGAIN}"
    zone = ZoneInfo(site.settings.zone)
    before = tuple(steel_before(earlier, restored(site, walk.heading), zone))
    for read in section.steel:
        today_m = read.chainage_m + ground.from_m - section.from_m
        last = last_there(read.model_copy(update={"chainage_m": today_m}), before)
        why = doubt(read, section.at, last, standard)
        if why is not None:
            yield (f"{text(read.read_mm)} mm read in {_named(section)} is {why}; {_AGAIN}")


def _of_codes(section: SectionSeen, standard: Standard | None) -> Iterator[str]:
    known = [it.code for it in standard.severities] if standard else []
    for part in section.parts:
        if known and part.severity is not None and part.severity not in known:
            yield f"the standard has no severity {part.severity}"


def _of_sample(sample: LookedAt) -> Iterator[str]:
    reached = sample.looked_at + sample.not_reached
    if not (sample.bad <= sample.looked_at and reached <= sample.drawn <= sample.there):
        yield f"more of the sample {sample.stratum} was told than was drawn"


def _damages(site: Site, walk: Walk) -> dict[str, Damage]:
    return {it.id: it.body for it in current(site, "damage", Damage, heading=walk.heading)}


def _named(section: SectionSeen) -> str:
    return f"the section {text(section.from_m)} to {text(section.to_m)} m"


def _standard(site: Site) -> Standard | None:
    try:
        return in_force(site, site.now()).body
    except NoStandard:
        return None
