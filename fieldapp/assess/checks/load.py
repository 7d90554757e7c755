"""What the support that is there carries, beside what its class demands: back and walls apart."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from functools import partial
from typing import Final

from fieldapp.assess.bolts_seen import Bolt
from fieldapp.assess.judge import Check, Reading, measured
from fieldapp.assess.load.demand import Part, demands_of
from fieldapp.assess.load.ground import load_ground
from fieldapp.assess.load.loads import PARTS, BoltLoad, Loads, LoadsSeen
from fieldapp.assess.rows_judged import ground_not_known, mended
from fieldapp.assess.seen import Seen
from fieldapp.assess.shaken import shaken
from schemas.findings import Finding, Place, Verdict
from schemas.limits import LoadLimit
from schemas.numbers import STEP_FACTOR

HOW: Final = "what each bolt carries, over what the ground nearest to it demands"
_MOST: Final = 9999.0
"""A bolt with hardly any ground carries that many times what is demanded, or more."""


def load(seen: Seen, demanded: LoadLimit) -> tuple[Finding, ...]:
    """Judge the bolt that carries least, in pressure and where energy is demanded in that.

    Parameters
    ----------
    seen : Seen
        Rows, bolts and the face. [m]
    demanded : LoadLimit
        How many times the demand must be carried. [-]

    Returns
    -------
    tuple of Finding
        One for the back and one for the walls, of each that something is demanded of. It only
        ever adds to what other checks say: what carries its load may be wide open. None passes
        after an event that nobody inspected after, which is a finding of its own. [-]

    Source
    ------
    Tributary areas: common practice, no source. The doubt of the places is carried to the area
    at the limit, where it decides: JCGM 100:2008, 5.1.2.
    """
    demands, ground = demands_of(seen.support_class), load_ground(seen)
    if demands is None:
        unstated = Place(words="what the class must carry is not stated")
        return measured(Check("load", HOW, ""), demanded, [], [unstated], STEP_FACTOR)
    if ground is None:
        nowhere = Place(words="the rows leave no ground between them")
        return measured(Check("load", HOW, ""), demanded, [], [nowhere], STEP_FACTOR)
    loads = LoadsSeen(seen, ground, demands)
    unseen = [*ground_not_known(seen), *_not_told(loads)]
    each = [it for it in (loads.pressure, loads.energy) if it is not None]
    found = [it for one in each for it in _found(loads, one, demanded, unseen)]
    if not found and unseen:
        return measured(Check("load", HOW, ""), demanded, [], unseen, STEP_FACTOR)
    known = not shaken(seen)
    return tuple(it for it in found if known or it.verdict is not Verdict.ACCEPT)


def _not_told(loads: LoadsSeen) -> Iterator[Place]:
    for demand in (loads.demands.back, loads.demands.walls):
        for of in demand.unknown:
            yield Place(words=f"the {of} to be carried by the {demand.part}: not stated in full")
    for bolt, it in loads.carried:
        if it.untold_grade is not None:
            words = f"what rust of grade {it.untold_grade} left of it, {bolt.place.words}"
            yield bolt.place.model_copy(update={"words": words})


def _found(
    seen: LoadsSeen, loads: Loads, limit: LoadLimit, unseen: list[Place]
) -> Iterator[Finding]:
    for part in PARTS:
        if seen.asked(loads.of, part) is None:
            continue
        bolts = loads.in_part(part)
        readings = [_bare(zone) for zone in seen.without_bolts(loads, part)]
        readings += _readings(seen, bolts, limit, supposed=bool(unseen))
        check = Check("load", HOW, _basis(loads, bolts), _title(loads, part))
        yield from measured(check, limit, readings, unseen, STEP_FACTOR)


def _title(loads: Loads, part: Part) -> str:
    where = "in the back" if part == "back" else "on the walls"
    return f"Load {where}" if loads.of == "pressure" else f"Energy {where}"


def _basis(loads: Loads, bolts: Sequence[BoltLoad]) -> str:
    assumed = any(not it.share.measured for it in bolts)
    counted = "" if loads.kind == "every" else f"{loads.kind} bolts alone, "
    return f"{counted}positions {'assumed' if assumed else 'measured'}"


def _bare(zone: str) -> Reading:
    """Give what an area without a bolt carries: nothing, and that is sure."""
    return Reading(
        value=Decimal(0),
        u=Decimal(0),
        place=lambda: Place(zone=zone, words=f"the {zone}: no bolt that carries stands in it"),
        again=True,
        fix=lambda: f"bolt the {zone} as the standard demands",
        zone=zone,
    )


def _readings(
    seen: LoadsSeen, bolts: Sequence[BoltLoad], limit: LoadLimit, *, supposed: bool
) -> Iterator[Reading]:
    """Give one reading a place: of bolts that stand in for the same one, the least."""
    least: dict[int, tuple[Bolt, BoltLoad]] = {}
    for it, place in zip(bolts, seen.to_blame(bolts), strict=True):
        known = least.get(id(place))
        if known is None or it.factor < known[1].factor:
            least[id(place)] = place, it
    for place, it in least.values():
        u = float(limit.bound) * it.share.u_m2 / it.share.area_m2
        yield Reading(
            value=Decimal(repr(min(it.factor, _MOST))),
            u=Decimal(repr(min(u, _MOST))),
            place=partial(_place, place),
            again=it.share.measured,
            fix=partial(_fix, place, bolts),
            zone=it.share.bolt.zone,
            supposed=supposed,
        )


def _place(bolt: Bolt) -> Place:
    return bolt.place


def _fix(place: Bolt, bolts: Sequence[BoltLoad]) -> str:
    """Mend the place that is to blame; where the bolt itself is, add one beside the worst."""
    if not any(place is it.share.bolt for it in bolts):
        return mended(place)
    least = min(bolts, key=lambda it: it.factor).share.bolt
    return f"add a bolt beside the one that carries least, {least.place.words}"
