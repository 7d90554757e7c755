"""Whether a mine's standard is sound: what is refused, and what the engineer should know.

What pydantic can't see from one field: what one part of a standard demands of another. Run
when a standard is read (`lastrow standard check`) and again before it is adopted.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from fieldapp.assess.standard_check import (
    bolt_rules,
    corrosion_rules,
    doubt_rules,
    gap_rules,
    intersection_rules,
    limit_rules,
    load_rules,
    mesh_rules,
    repair_rules,
    shape_rules,
    take_off_rules,
    walk_rules,
    whole_rules,
)
from fieldapp.assess.standard_check.faults import Caution, Fault, Refusal
from fieldapp.assess.standard_check.gap_rules import GapLimits, proposed_gap_limits
from schemas.standard import Standard

__all__ = ["Caution", "GapLimits", "Refusal", "proposed_gap_limits", "refusals", "warnings"]

_CLASS_RULES: Final = (
    *shape_rules.RULES,
    *gap_rules.RULES,
    *limit_rules.RULES,
    *mesh_rules.RULES,
    *bolt_rules.RULES,
    *take_off_rules.RULES,
    *load_rules.RULES,
    *intersection_rules.RULES,
)
_WHOLE_RULES: Final = (
    *whole_rules.RULES,
    *repair_rules.RULES,
    *doubt_rules.RULES,
    *walk_rules.RULES,
    *corrosion_rules.RULES,
    *load_rules.WHOLE_RULES,
    *take_off_rules.PRICE_RULES,
)


def refusals(standard: Standard) -> tuple[Refusal, ...]:
    """Say why a standard can't be adopted as it is.

    Parameters
    ----------
    standard : Standard
        As it was read. [any]

    Returns
    -------
    tuple of Refusal
        Each with its JSON path and the reason; none for a sound standard. [-]

    Source
    ------
    Common practice, no source; the closed forms name theirs in `pattern_gaps`, `capacity`.
    """
    return tuple(fault for fault in _faults(standard) if isinstance(fault, Refusal))


def warnings(standard: Standard) -> tuple[Caution, ...]:
    """Say what the engineer should know before adopting a standard all the same.

    Parameters
    ----------
    standard : Standard
        As it was read. [any]

    Returns
    -------
    tuple of Caution
        Each with its JSON path and the reason. [-]

    Source
    ------
    Common practice, no source.
    """
    return tuple(fault for fault in _faults(standard) if isinstance(fault, Caution))


def _faults(standard: Standard) -> Iterator[Fault]:
    for index, support_class in enumerate(standard.classes):
        for rule in _CLASS_RULES:
            for fault in rule(support_class):
                yield replace(fault, path=f"$.classes[{index}]{fault.path}")
    for whole in _WHOLE_RULES:
        yield from whole(standard)
