"""What a round costs by the standard's prices: material, and the hours of its crew."""

from collections.abc import Iterator
from decimal import Decimal

from fieldapp.assess.take_off.pace import meshed_m2, minutes_of
from fieldapp.assess.take_off.whole import Kind, TakeOff
from schemas.bodies.work_seen import Used, WorkSeen
from schemas.numbers import STEP_MONEY, rounded
from schemas.prices import Prices
from schemas.standard import SupportClass

_PRICED: tuple[Kind, ...] = ("bolts", "plates", "mesh", "capsules")


def material_cost(found: TakeOff, prices: Prices) -> Decimal | None:
    """Give what the material of a take-off costs.

    Parameters
    ----------
    found : TakeOff
        What a round takes. [various]
    prices : Prices
        The standard's. [money each]

    Returns
    -------
    Decimal or None
        None where a bolt of it has no price. [money]

    Source
    ------
    Common practice, no source.
    """
    counted = ((it.kind, it.of, it.per_round) for it in found.items if it.kind in _PRICED)
    return _sum(counted, prices)


def cost_of_round(
    demanded: SupportClass, found: TakeOff, work: WorkSeen, prices: Prices
) -> Decimal | None:
    """Give what a round really cost, from what was stated and nothing else.

    Parameters
    ----------
    demanded : SupportClass
        The class that it was put up by. [various]
    found : TakeOff
        What it takes: whatever of that nobody counted leaves the cost unknown. [various]
    work : WorkSeen
        What went in, how long it took, and how many people. [various]
    prices : Prices
        The standard's. [money each]

    Returns
    -------
    Decimal or None
        None where something of it isn't stated or has no price. [money]

    Source
    ------
    Common practice, no source.
    """
    minutes = minutes_of(work)
    if minutes is None or work.crew_size is None:
        return None
    counted = tuple(_counted(demanded, work.used))
    stated = {kind for kind, _, _ in counted}
    missing = {it.kind for it in found.items if it.kind in _PRICED} - stated
    codes = {it.of for it in found.items if it.kind == "bolts"}
    uncounted = codes - {it.bolt_type for it in work.used.bolts}
    material = None if missing or uncounted else _sum(iter(counted), prices)
    if material is None:
        return None
    crew = prices.person_per_h * work.crew_size * minutes / 60
    return rounded(material + crew, STEP_MONEY)


_Counted = tuple[Kind, str, Decimal]


def _counted(demanded: SupportClass, used: Used) -> Iterator[_Counted]:
    for it in used.bolts:
        yield "bolts", it.bolt_type, Decimal(it.bolts)
    if used.plates is not None:
        yield "plates", "", Decimal(used.plates)
    if used.capsules is not None:
        yield "capsules", "", Decimal(used.capsules)
    meshed = meshed_m2(demanded.mesh, used)
    if meshed is not None:
        yield "mesh", "", meshed


def _sum(counted: Iterator[_Counted], prices: Prices) -> Decimal | None:
    bolts = {it.bolt_type: it.each for it in prices.bolts}
    each = {
        "plates": prices.plate_each,
        "mesh": prices.mesh_per_m2,
        "capsules": prices.capsule_each,
    }
    total = Decimal(0)
    for kind, of, much in counted:
        price = bolts.get(of) if kind == "bolts" else each[kind]
        if price is None:
            return None
        total += price * much
    return rounded(total, STEP_MONEY)
