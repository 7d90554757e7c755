"""What of a round has to cure before it counts, and when it has."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from fieldapp.assess.curing import Cured, StrengthReading, cured
from fieldapp.assess.seen import Seen
from schemas.limits import Curing
from schemas.standard import BoltType


@dataclass(frozen=True)
class CuredPart:
    """Bolts of one type, or the shotcrete: when it has cured, and whether it tested too weak."""

    words: str
    cured: Cured
    too_weak: bool


def cured_parts(seen: Seen) -> tuple[CuredPart, ...]:
    """Find everything in a round that has to cure.

    Parameters
    ----------
    seen : Seen
        The round, its class, and the time of the assessment. [UTC]

    Returns
    -------
    tuple of CuredPart
        Bolt types that were used, every one of the class while none was named; shotcrete. [UTC]

    Source
    ------
    Common practice, no source.
    """
    return (*_bolts(seen), *_shotcrete(seen))


def is_cured(seen: Seen) -> bool:
    """Say whether all of it has.

    Parameters
    ----------
    seen : Seen
        The round and the time. [UTC]

    Returns
    -------
    bool
        At the time of the assessment. [-]

    Source
    ------
    Common practice, no source.
    """
    return all(_has(part, seen.as_at) for part in cured_parts(seen))


def cured_at(seen: Seen) -> datetime | None:
    """Say when the last of it will have, as far as can be said.

    Parameters
    ----------
    seen : Seen
        The round and the time. [UTC]

    Returns
    -------
    datetime or None
        None if all of it has, or nobody said when it was finished. [UTC]

    Source
    ------
    Common practice, no source.
    """
    waiting = [part for part in cured_parts(seen) if not _has(part, seen.as_at)]
    ends = [part.cured.at or part.cured.by_time_at for part in waiting]
    return max((end for end in ends if end is not None and end > seen.as_at), default=None)


def _has(part: CuredPart, as_at: datetime) -> bool:
    return not part.too_weak and part.cured.is_cured(as_at)


def _bolts(seen: Seen) -> Iterator[CuredPart]:
    finished = seen.round.bolter.bolting_finished_at
    for bolt_type in _types_used(seen):
        if bolt_type.curing is not None:
            yield _part(bolt_type.name, bolt_type.curing, finished, (), seen)


def _types_used(seen: Seen) -> tuple[BoltType, ...]:
    marks = [bolt.mark for row in seen.rows for bolt in row.all_bolts if bolt.mark]
    codes = {mark.bolt_type for mark in marks if mark.bolt_type is not None}
    if seen.round.bolter.bolt_type is None:
        return tuple(seen.support_class.bolts)
    codes.add(seen.round.bolter.bolt_type)
    return tuple(bolt for bolt in seen.support_class.bolts if bolt.code in codes)


def _shotcrete(seen: Seen) -> Iterator[CuredPart]:
    demanded = seen.support_class.shotcrete
    if demanded is not None:
        tested = seen.round.shotcrete.strength_mpa
        readings = () if tested is None else (tested,)
        sprayed = seen.round.shotcrete.sprayed_at
        yield _part("shotcrete", demanded.curing, sprayed, readings, seen)


def _part(
    words: str,
    curing: Curing,
    finished: datetime | None,
    tested: tuple[Decimal, ...],
    seen: Seen,
) -> CuredPart:
    """Judge one part; a strength was shown by the time of the assessment, no earlier."""
    least = curing.strength_mpa
    readings = [StrengthReading(seen.as_at, strength) for strength in tested]
    too_weak = least is not None and any(strength < least for strength in tested)
    return CuredPart(words, cured(finished, curing.after_h, least, readings), too_weak)
