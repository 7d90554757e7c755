"""What is demanded of one bolt and told of all, and which bolt it is by that.

`counting` says with them what makes a bolt count, `load` what one carries.
"""

from dataclasses import dataclass
from decimal import Decimal

from schemas.bodies.round import BolterCheck, BoltSeen
from schemas.standard import BoltType, Standard, SupportClass


@dataclass(frozen=True)
class Rules:
    """What the class and the standard demand of one bolt, and what the bolter said of all."""

    types: dict[str, BoltType]
    bolter: BolterCheck
    angle_at_most_deg: Decimal
    plate_at_most_mm: Decimal
    rusted_from_grade: int
    shares_left: dict[int, Decimal]
    """Of a bolt's capacity, by the grade of its rust, where the standard says so."""


def rules_of(standard: Standard, support_class: SupportClass, bolter: BolterCheck) -> Rules:
    """Gather what is demanded of one bolt.

    Parameters
    ----------
    standard : Standard
        The mine's standard. [various]
    support_class : SupportClass
        The class in force. [various]
    bolter : BolterCheck
        What the bolter said of the round's bolts. [various]

    Returns
    -------
    Rules
        Types, limits and the bolter's words. [various]

    Source
    ------
    Common practice, no source.
    """
    return Rules(
        types={bolt.code: bolt for bolt in support_class.bolts},
        bolter=bolter,
        angle_at_most_deg=support_class.limits.bolt_angle.at_most_deg,
        plate_at_most_mm=support_class.limits.plates_seated.at_most_gap_mm,
        rusted_from_grade=standard.corrosion.bolt_counts_below_grade,
        shares_left={
            it.grade: it.share_left
            for it in standard.corrosion.grades
            if it.share_left is not None
        },
    )


def code_of(mark: BoltSeen | None, rules: Rules, *, old: bool) -> str | None:
    """Give the code of a bolt's type.

    Parameters
    ----------
    mark : BoltSeen or None
        What was seen of the bolt by itself. [-]
    rules : Rules
        What the bolter said of all. [-]
    old : bool
        An old bolt: the bolter's words are not about it. [-]

    Returns
    -------
    str or None
        None where nobody said. [-]

    Source
    ------
    Common practice, no source.
    """
    if mark is not None and mark.bolt_type is not None:
        return mark.bolt_type
    return None if old else rules.bolter.bolt_type


def types_of(mark: BoltSeen | None, zone: str, rules: Rules) -> tuple[BoltType, ...]:
    """Give the types of bolt that it can be.

    Parameters
    ----------
    mark : BoltSeen or None
        What was seen of the bolt by itself. [various]
    zone : str
        The zone it is in. [-]
    rules : Rules
        The class's types; for an old bolt the bolter's words are left out. [-]

    Returns
    -------
    tuple of BoltType
        Its own where that is known, else every type of the zone. [various]

    Source
    ------
    Common practice, no source.
    """
    code = code_of(mark, rules, old=False)
    if code is not None:
        return (rules.types[code],) if code in rules.types else ()
    return tuple(bolt for bolt in rules.types.values() if zone in bolt.zones)


def length_of(mark: BoltSeen | None, rules: Rules, bolt_type: BoltType) -> Decimal:
    """Give the length of a bolt as it was seen or told, else that of its type.

    Parameters
    ----------
    mark : BoltSeen or None
        What was seen of the bolt by itself. [various]
    rules : Rules
        What the bolter said of all; for an old bolt the bolter's words are left out. [m]
    bolt_type : BoltType
        What it is. [m]

    Returns
    -------
    Decimal
        Its length. [m]

    Source
    ------
    Common practice, no source.
    """
    if mark is not None and mark.length_m is not None:
        return mark.length_m
    own_type = mark is not None and mark.bolt_type is not None
    said = None if own_type else rules.bolter.bolt_length_m
    return bolt_type.length_m if said is None else said
