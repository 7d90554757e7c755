"""Whether condition walks can be planned by a standard, and no worse ground is walked less."""

from collections.abc import Iterator, Sequence
from typing import Final

from fieldapp.assess.standard_check.faults import Caution, Fault, Refusal, StandardRule
from fieldapp.assess.walk import WORSE
from schemas.standard import Standard
from schemas.walk_rules import WalkInterval

_LISTED: Final = (
    ("support_class", "classes", "support classes"),
    ("exposure", "exposures", "exposures"),
    ("severity_from", "severities", "severities"),
)
_NAMED: Final = (
    "support_class",
    "corrosivity_from",
    "exposure",
    "corrosion_from",
    "severity_from",
)


def _known_codes(standard: Standard) -> Iterator[Fault]:
    for path, interval in _intervals(standard):
        for field, name, words in _LISTED:
            code = getattr(interval, field)
            codes = [it.code for it in getattr(standard, name)]
            if code is not None and code not in codes:
                reason = f"{code or 'nothing'} is none of the standard's {words}"
                yield Refusal(f"{path}.{field}", reason)


def _stands_once(standard: Standard) -> Iterator[Fault]:
    found: list[tuple[object, ...]] = []
    for path, interval in _intervals(standard):
        named = _named(interval)
        if named in found:
            yield Refusal(path, "an interval for the same ground stands there twice")
        if not any(it is not None for it in named):
            reason = "it names no ground, so it holds everywhere and $.walk.interval_days nowhere"
            yield Caution(path, reason)
        found.append(named)


def _worse_is_no_rarer(standard: Standard) -> Iterator[Fault]:
    """Refuse what would let worse ground wait longer than milder ground."""
    card = [it.code for it in standard.severities]
    usual = standard.walk.interval_days if standard.walk else 0
    intervals = list(_intervals(standard))
    for path, interval in intervals:
        days = interval.interval_days
        wider = (it for _, it in intervals if _holds_wherever(it, interval, card))
        shorter = min((it.interval_days for it in wider), default=days)
        if days > shorter:
            reason = f"{days} days never counts: all of that ground is walked every {shorter} days"
            yield Refusal(f"{path}.interval_days", reason)
        elif days > usual and _is_only_worse(interval, card):
            reason = f"{days} days is longer than the {usual} days of ground that is no worse"
            yield Refusal(f"{path}.interval_days", reason)


def _how_much(standard: Standard) -> Iterator[Fault]:
    rule = standard.walk
    if rule is None:
        return
    if not rule.full_zones_in_ten_sections:
        path = "$.walk.full_zones_in_ten_sections"
        yield Caution(path, "no zone is answered in full, so nobody is asked to look closely")
    named = [it.of for it in rule.looked_at]
    for index, of in enumerate(named):
        if of in named[:index]:
            yield Refusal(f"$.walk.looked_at[{index}].of", f"{of} stand there twice")
    if not named:
        yield Caution("$.walk.looked_at", "nothing says how many bolts or bays are looked at")


def _intervals(standard: Standard) -> Iterator[tuple[str, WalkInterval]]:
    for index, it in enumerate(standard.walk.intervals if standard.walk else ()):
        yield f"$.walk.intervals[{index}]", it


def _named(interval: WalkInterval) -> tuple[object, ...]:
    return tuple(getattr(interval, name) for name in _NAMED)


def _holds_wherever(one: WalkInterval, other: WalkInterval, card: Sequence[str]) -> bool:
    """Whether an interval holds for all ground for which another one does."""
    return (
        one.support_class in (None, other.support_class)
        and one.exposure in (None, other.exposure)
        and _from(one.corrosivity_from, WORSE) <= _from(other.corrosivity_from, WORSE)
        and _grade(one) <= _grade(other)
        and _from(one.severity_from, card) <= _from(other.severity_from, card)
    )


def _is_only_worse(interval: WalkInterval, card: Sequence[str]) -> bool:
    """Whether it names nothing but how bad the ground is, and that above the mildest."""
    if interval.support_class is not None or interval.exposure is not None:
        return False
    bad = (_from(interval.corrosivity_from, WORSE), _grade(interval))
    return max(*bad, _from(interval.severity_from, card)) > 0


def _from(code: str | None, order: Sequence[str]) -> int:
    """Give how bad ground must be: -1 where it may be anything; 0 the mildest."""
    return order.index(code) if code in order else -1


def _grade(interval: WalkInterval) -> int:
    return -1 if interval.corrosion_from is None else interval.corrosion_from


RULES: Final[tuple[StandardRule, ...]] = (
    _known_codes,
    _stands_once,
    _worse_is_no_rarer,
    _how_much,
)
