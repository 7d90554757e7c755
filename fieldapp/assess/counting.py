"""What makes a bolt count, what holds rock, and what does not.

A bolt that counts is there, of the right type and length, not broken, at an angle within the
limit and not rusted away. *Plated*: its plate is seated too. *Anchored*: it holds although
its plate is loose, as a fully grouted bar does. Curing is judged by itself: until then no row
is complete.
"""

from collections.abc import Iterator
from decimal import Decimal
from typing import Final, Literal

from fieldapp.assess.bolt_rules import Rules, code_of, length_of
from schemas.bodies.round import BoltSeen, PlateGap

Fault = Literal[
    "missing",
    "broken",
    "hole given up",
    "not a bolt of this class",
    "not a bolt for this zone",
    "too short",
    "angle over the limit",
    "rusted",
]

_STATES: dict[str, Fault] = {
    "missing": "missing",
    "broken": "broken",
    "blocked hole": "hole given up",
}

GONE: Final = frozenset(_STATES.values())
"""Faults of a position at which there is no bolt to measure to; such a fault stands alone."""

_STANDS_OFF_MM: dict[PlateGap, Decimal | None] = {
    "tight": Decimal(0),
    "< 10 mm": Decimal(10),
    "10–20 mm": Decimal(20),
    "> 20 mm": None,
}


def faults_of(mark: BoltSeen | None, zone: str, rules: Rules) -> tuple[Fault, ...]:
    """Say why a bolt does not count.

    Parameters
    ----------
    mark : BoltSeen or None
        What was seen of it by itself; None where nothing was. [various]
    zone : str
        The zone it is in. [-]
    rules : Rules
        What is demanded. [various]

    Returns
    -------
    tuple of Fault
        Empty for a bolt that counts. [-]

    Source
    ------
    Common practice, no source.
    """
    if mark is not None and mark.state in _STATES:
        return (_STATES[mark.state],)
    return (*_of_the_type(mark, zone, rules), *_as_put_in(mark, rules))


def is_seated(mark: BoltSeen | None, rules: Rules, *, row_counted: bool) -> bool | None:
    """Say whether a plate is seated.

    Parameters
    ----------
    mark : BoltSeen or None
        What was seen of the bolt by itself. [various]
    rules : Rules
        How far a plate may stand off. [mm]
    row_counted : bool
        The row was counted "as standard": plates seated unless marked. [-]

    Returns
    -------
    bool or None
        None where nobody looked. [-]

    Source
    ------
    Common practice, no source.
    """
    if mark is not None and mark.plate in ("loose", "missing"):
        return False
    if mark is not None and mark.plate_gap is not None:
        return is_within(mark.plate_gap, rules.plate_at_most_mm)
    if mark is not None and mark.plate == "seated":
        return True
    return True if row_counted else None


def is_within(gap: PlateGap, at_most_mm: Decimal) -> bool:
    """Say whether a plate that stands off so far is seated.

    Parameters
    ----------
    gap : PlateGap
        The step of the scale that was touched. [mm]
    at_most_mm : Decimal
        How far a plate may stand off. [mm]

    Returns
    -------
    bool
        The upper end of the step is within the limit. [-]

    Source
    ------
    Common practice, no source.
    """
    upper = _STANDS_OFF_MM[gap]
    return upper is not None and upper <= at_most_mm


def holds_when_loose(mark: BoltSeen | None, zone: str, rules: Rules, *, old: bool) -> bool:
    """Say whether a bolt holds rock although its plate is loose.

    Parameters
    ----------
    mark : BoltSeen or None
        What was seen of the bolt by itself. [various]
    zone : str
        The zone it is in. [-]
    rules : Rules
        The class's types. [-]
    old : bool
        An old bolt: the bolter's words are not about it. [-]

    Returns
    -------
    bool
        With the type not known, only if every type of the zone does. [-]

    Source
    ------
    Common practice, no source.
    """
    code = code_of(mark, rules, old=old)
    if code is not None and code in rules.types:
        return rules.types[code].anchored_with_loose_plate
    here = [bolt for bolt in rules.types.values() if zone in bolt.zones]
    return bool(here) and all(bolt.anchored_with_loose_plate for bolt in here)


def _of_the_type(mark: BoltSeen | None, zone: str, rules: Rules) -> Iterator[Fault]:
    code = code_of(mark, rules, old=False)
    if code is None:
        return
    bolt_type = rules.types.get(code)
    if bolt_type is None:
        yield "not a bolt of this class"
    elif zone not in bolt_type.zones:
        yield "not a bolt for this zone"
    elif length_of(mark, rules, bolt_type) < bolt_type.length_m:
        yield "too short"


def _as_put_in(mark: BoltSeen | None, rules: Rules) -> Iterator[Fault]:
    if mark is None:
        return
    measured = mark.angle_deg is not None and mark.angle_deg > rules.angle_at_most_deg
    if measured or (mark.angle_deg is None and mark.angle_over_limit):
        yield "angle over the limit"
    if mark.corrosion_grade is not None and mark.corrosion_grade >= rules.rusted_from_grade:
        yield "rusted"
