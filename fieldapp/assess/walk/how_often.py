"""How often a section is walked, by what the mine's standard says of ground like it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, get_args

from fieldapp.assess.walk.due import Interval
from schemas.corrosion_rules import Corrosivity
from schemas.standard import Standard
from schemas.walk_rules import WalkInterval, WalkRule

WORSE: Final[tuple[Corrosivity, ...]] = get_args(Corrosivity)
"""From mild to bad."""


@dataclass(frozen=True)
class Condition:
    """What is known of a section when its next walk is worked out."""

    support_classes: frozenset[str]
    corrosivity: Corrosivity | None
    exposure: str | None
    corrosion: int | None
    """The worst grade of rust that was seen there last."""
    severity: str | None
    """The worst severity that was seen there last, or of damage that stands."""


def interval(standard: Standard, rule: WalkRule, condition: Condition) -> Interval:
    """Give the interval that holds for a section.

    Parameters
    ----------
    standard : Standard
        Whose rule it is: its card says which severity is graver. [-]
    rule : WalkRule
        What it says of walks. [d]
    condition : Condition
        What is known of the section; what nobody has said meets no condition. [-]

    Returns
    -------
    Interval
        The shortest of those of which everything that they name holds; where none does, the
        rule's own. [d]

    Source
    ------
    Common practice, no source.
    """
    graver = [it.code for it in standard.severities]
    holding = [it for it in rule.intervals if all(_holds(it, condition, graver))]
    if not holding:
        return Interval(rule.interval_days, f"every {_days(rule.interval_days)}")
    shortest = min(holding, key=lambda it: it.interval_days)
    named = ", ".join(_named(shortest, condition))
    words = f"every {_days(shortest.interval_days)}"
    return Interval(shortest.interval_days, f"{words}: {named}" if named else words)


def _holds(it: WalkInterval, condition: Condition, graver: Sequence[str]) -> Iterator[bool]:
    """Yield for each thing that an interval names whether it holds."""
    if it.support_class is not None:
        yield it.support_class in condition.support_classes
    if it.exposure is not None:
        yield it.exposure == condition.exposure
    if it.corrosivity_from is not None:
        yield _is_from(condition.corrosivity, it.corrosivity_from, WORSE)
    if it.corrosion_from is not None:
        yield condition.corrosion is not None and condition.corrosion >= it.corrosion_from
    if it.severity_from is not None:
        yield _is_from(condition.severity, it.severity_from, graver)


def _is_from(known: str | None, least: str, order: Sequence[str]) -> bool:
    """Whether something is as bad as the least, or worse; what the order lacks is as bad."""
    if known is None or least not in order:
        return False
    return known not in order or order.index(known) >= order.index(least)


def _named(it: WalkInterval, condition: Condition) -> Iterator[str]:
    """Yield in words what an interval holds for."""
    if it.support_class is not None:
        yield f"class {it.support_class}"
    if it.corrosivity_from is not None:
        yield f"air and water {condition.corrosivity}"
    if it.exposure is not None:
        yield f"exposure {it.exposure}"
    if it.corrosion_from is not None:
        yield f"rust of grade {condition.corrosion}"
    if it.severity_from is not None:
        yield f"severity {condition.severity}"


def _days(days: int) -> str:
    return "day" if days == 1 else f"{days} days"
