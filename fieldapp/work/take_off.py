"""Take-off of a heading's next round, and of rounds that were made."""

from dataclasses import dataclass, replace
from decimal import Decimal

from fieldapp.assess.demanded import rows_demanded
from fieldapp.assess.take_off import (
    Difference,
    TakeOff,
    compared,
    cost_of_round,
    least_lap_mm,
    material_cost,
    take_off,
    take_off_of_round,
    wanted_for,
)
from fieldapp.work.headings import heading
from fieldapp.work.known import Known
from fieldapp.work.rounds import ROWS_AT_FIRST, ClassLeftOut, class_of_next, last_round
from fieldapp.work.site import Sight, Site
from fieldapp.work.standard_in_force import in_force, of_revision
from schemas.bodies.round import Round
from schemas.numbers import STEP_MONEY, rounded
from schemas.standard import Standard, SupportClass


@dataclass(frozen=True)
class Priced:
    """What it costs by the standard's prices."""

    currency: str
    material: Decimal
    per_metre: Decimal
    round_cost: Decimal | None = None
    """What the round really cost, with its crew; None where something isn't stated."""


@dataclass(frozen=True)
class NextTakeOff:
    """What the next round of a heading takes."""

    heading: str
    standard: str
    take_off: TakeOff
    measured_in: int | None
    """Number of the round whose measured profile it is reckoned with; None: as designed."""
    priced: Priced | None
    """None where the standard has no prices for it."""
    row_spacing_m: Decimal
    least_lap_mm: Decimal


@dataclass(frozen=True)
class RoundTakeOff:
    """What a round took by the standard that it was shown."""

    round_id: str
    number: int
    standard: str
    take_off: TakeOff
    used: tuple[Difference, ...]
    """What somebody counted of what went in, against it."""
    priced: Priced | None


def next_take_off(
    site: Site, name: str, advance_m: Decimal | None = None, lap_mm: Decimal | None = None
) -> NextTakeOff:
    """Give what a heading's next round takes by the standard in force.

    Parameters
    ----------
    site : Site
        The records.
    name : str
        Name or id of the heading.
    advance_m : Decimal or None
        How far the round gets; None: as many rows as the last one.
    lap_mm : Decimal or None
        Of the mesh; None: the least that the class demands.

    Raises
    ------
    NoSuchHeading, NoStandard, ClassLeftOut, NoSuchAdvance, LapLargerThanSheet
        Nothing can be reckoned.
    """
    place = heading(site, name)
    standard = in_force(site, site.now()).body
    demanded = _class_of(standard, class_of_next(site, place))
    last = last_round(site, place.id)
    before = last.body if last else None
    rows = before.rows_planned if before else ROWS_AT_FIRST
    wanted = wanted_for(
        demanded,
        rows * demanded.pattern.row_spacing_m if advance_m is None else advance_m,
        lap_mm,
        before.profile if before else None,
        after_offset_row=_ends_offset(demanded, before),
    )
    measured_in = before.number if before and before.profile else None
    found = take_off(demanded, wanted)
    priced = _priced(standard, found)
    return NextTakeOff(
        heading=place.body.name,
        standard=standard.name,
        take_off=found,
        measured_in=measured_in,
        priced=priced,
        row_spacing_m=demanded.pattern.row_spacing_m,
        least_lap_mm=least_lap_mm(demanded),
    )


def round_take_off(sight: Sight, known: Known[Round]) -> RoundTakeOff:
    """Give what a recorded round took by the standard that it was shown.

    Raises
    ------
    NoStandard, ClassLeftOut
        Nothing can be reckoned.
    """
    body = known.body
    shown = of_revision(sight, body.standard) or in_force(sight, known.entry.made_at)
    demanded = _class_of(shown.body, body.support_class)
    found = take_off_of_round(shown.body, body)
    if found is None:
        raise ClassLeftOut(shown.body.name, body.class_said)
    used = compared(found, body.work.used) if body.work else ()
    priced = _priced(shown.body, found)
    if priced is not None and shown.body.prices is not None and body.work is not None:
        cost = cost_of_round(demanded, found, body.work, shown.body.prices)
        priced = replace(priced, round_cost=cost)
    return RoundTakeOff(known.id, body.number, shown.body.name, found, used, priced)


def _class_of(standard: Standard, code: str) -> SupportClass:
    found = standard.support_class(code)
    if found is None:
        raise ClassLeftOut(standard.name, code)
    return found


def _ends_offset(demanded: SupportClass, before: Round | None) -> bool:
    """Tell whether the last row of a round is an offset row of a staggered pattern."""
    return before is not None and rows_demanded(demanded, before)[-1].offset


def _priced(standard: Standard, found: TakeOff) -> Priced | None:
    material = material_cost(found, standard.prices) if standard.prices else None
    if material is None or standard.prices is None:
        return None
    per_metre = rounded(material / found.wanted.advance_m, STEP_MONEY)
    return Priced(standard.prices.currency, material, per_metre)
