"""From readings and answers to a finding: what the standard says of them.

Nothing is passed by default. What nobody looked at is "not looked at" and holds entry at
what its breach would mean; a reading that straddles its limit is to be measured again, once.
A breach never hides what nobody looked at or is to be measured again: where there are both,
there are two findings, because the breach may be mended, or stand under a deviation, and the rest
is not known all the same.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from fieldapp.assess.uncertainty import Answer, Decision, decide
from schemas.findings import Finding, Place, Verdict, worst
from schemas.limits import Demanded, Measured
from schemas.numbers import rounded, text

NEVER_LEFT_FOR_THE_SHIFT: Final = frozenset(
    {
        "bolts_present",
        "neighbouring_bolts",
        "largest_gap",
        "load",
        "old_rows",
        "last_row_to_face",
    }
)
"""A missing bolt is never fixed "this shift": people would stand beneath it."""


@dataclass(frozen=True)
class Check:
    """Which check speaks, and how it got its answer."""

    name: str
    how: str
    basis: str
    title: str = ""

    @property
    def said(self) -> str:
        """The title as it stands in the list."""
        return self.title or self.name.replace("_", " ").capitalize()


@dataclass(frozen=True)
class Reading:
    """One measured value, how sure it is and where. `fix` is the job that would mend it.

    Place and job are worked out only where they are said: of sixty bolts, that is a few.
    """

    value: Decimal
    u: Decimal
    place: Callable[[], Place]
    again: bool = False
    fix: Callable[[], str] | None = None
    zone: str | None = None
    supposed: bool = False
    """It rests on ground that nobody looked at: good enough to see a breach, not to be shown."""


@dataclass(frozen=True)
class Breach:
    """One place that is not as demanded, and the job that would mend it."""

    place: Place
    fix: str | None = None
    verdict: Verdict | None = None
    """Another verdict than the limit's own, where the standard says so."""


@dataclass(frozen=True)
class _Judged:
    verdict: Verdict
    holds: Verdict
    reading: Reading
    value: Decimal
    bound: Decimal
    decision: Decision


def answered(
    check: Check,
    limit: Demanded,
    breaches: Sequence[Breach],
    unseen: Sequence[Place],
    counted: int | None = None,
) -> tuple[Finding, ...]:
    """State the findings of a check that measures nothing.

    Parameters
    ----------
    check : Check
        Which, how, and what it rests on. [-]
    limit : Demanded
        What is demanded and what a breach means. [-]
    breaches : sequence of Breach
        Places that are not as demanded. [-]
    unseen : sequence of Place
        Places that nobody looked at. [-]
    counted : int or None
        How many places there are, where saying "44 of 45" helps. [-]

    Returns
    -------
    tuple of Finding
        The worst breach, and beside it what nobody looked at; one of them where there is but
        one, accept where there is neither. [-]

    Source
    ------
    Common practice, no source.
    """
    known = _answered(check, limit, breaches, [], None if unseen else counted)
    if unseen and _is_breach(known.verdict):
        return known, _answered(check, limit, [], unseen, None)
    return (_answered(check, limit, breaches, unseen, counted),)


def _is_breach(verdict: Verdict) -> bool:
    """Whether it is graver than not knowing, which it would hide."""
    return verdict.gravity > Verdict.NOT_LOOKED_AT.gravity


def _answered(
    check: Check,
    limit: Demanded,
    breaches: Sequence[Breach],
    unseen: Sequence[Place],
    counted: int | None,
) -> Finding:
    verdicts = [
        _breach(check.name, one.verdict or limit.breach, one.place.zone) for one in breaches
    ]
    meant = worst([*verdicts, _breach(check.name, limit.breach, None)])
    verdict = worst([*verdicts, *([Verdict.NOT_LOOKED_AT] if unseen else [])])
    return Finding(
        check=check.name,
        title=check.said,
        verdict=verdict,
        holds=meant if unseen else worst(verdicts),
        measured=None
        if counted is None or unseen
        else f"{max(0, counted - len(breaches))} of {counted}",
        uncertainty=None,
        limit=None,
        unit="",
        places=(*unseen, *(one.place for one in breaches)),
        because=limit.because,
        how=_how(check, unseen),
        basis=check.basis,
        fix=_jobs(one.fix for one in breaches),
    )


def measured(
    check: Check,
    limit: Measured,
    readings: Sequence[Reading],
    unseen: Sequence[Place],
    step: Decimal,
) -> tuple[Finding, ...]:
    """State the findings of a check that measures: the worst reading governs.

    Parameters
    ----------
    check : Check
        Which, how, and what it rests on. [-]
    limit : Measured
        The bound, the guard factor, and what a breach means. [limit.unit]
    readings : sequence of Reading
        Values read. [limit.unit]
    unseen : sequence of Place
        Places where a value is demanded and nobody read one. [-]
    step : Decimal
        What values are rounded to. [limit.unit]

    Returns
    -------
    tuple of Finding
        The governing reading beside its limit, and beside a breach what nobody read or is to be
        measured again. [limit.unit]

    Source
    ------
    JCGM 106:2012, 8.3.2; that the worst reading governs is common practice, no source.
    """
    judged = [_judge(check.name, limit, reading, step) for reading in readings]
    settled = [one for one in judged if one.verdict is not Verdict.MEASURE_AGAIN]
    again = [one for one in judged if one.verdict is Verdict.MEASURE_AGAIN]
    if (again or unseen) and _is_breach(worst([one.verdict for one in settled])):
        known = _measured(check, limit, settled, [], step)
        return known, _measured(check, limit, again, unseen, step)
    return (_measured(check, limit, judged, unseen, step),)


def _measured(
    check: Check,
    limit: Measured,
    judged: Sequence[_Judged],
    unseen: Sequence[Place],
    step: Decimal,
) -> Finding:
    verdicts = [one.verdict for one in judged] + [Verdict.NOT_LOOKED_AT] * bool(unseen)
    verdict = worst(verdicts)
    governing = max(judged, key=lambda one: _gravity(one, limit), default=None)
    if governing is not None and governing.reading.supposed and verdict is Verdict.NOT_LOOKED_AT:
        governing = None
    bad = [one.reading for one in judged if one.verdict is not Verdict.ACCEPT]
    meant = [_gravest(check.name, limit)] * bool(unseen)
    return Finding(
        check=check.name,
        title=check.said,
        verdict=verdict,
        holds=worst([*(one.holds for one in judged), *meant]),
        measured=None if governing is None else text(governing.value),
        uncertainty=None if governing is None else _doubt(governing.reading.u, step),
        limit=f"{limit.sense} {text(limit.bound if governing is None else governing.bound)}",
        unit=limit.unit,
        places=_places(bad, governing, unseen),
        because=limit.because,
        how=_how(check, unseen),
        basis=_basis(check, governing),
        fix=_jobs(_job(one) for one in judged),
    )


def _judge(check: str, limit: Measured, reading: Reading, step: Decimal) -> _Judged:
    value = rounded(reading.value, step)
    decision = _decide(limit, limit.bound, value, reading)
    meant = _breach(check, limit.breach, reading.zone)
    verdict, holds = {
        Answer.WITHIN: (Verdict.ACCEPT, Verdict.ACCEPT),
        Answer.STRADDLES: (Verdict.MEASURE_AGAIN, meant),
        Answer.BEYOND: (meant, meant),
    }[decision.answer]
    if limit.grave_bound is not None:
        grave = _decide(limit, limit.grave_bound, value, reading)
        if grave.answer is Answer.BEYOND:
            no_entry = Verdict.NO_ENTRY
            return _Judged(no_entry, no_entry, reading, value, limit.grave_bound, grave)
        if grave.answer is Answer.STRADDLES:
            holds = Verdict.NO_ENTRY
    return _Judged(verdict, holds, reading, value, limit.bound, decision)


def _decide(limit: Measured, bound: Decimal, value: Decimal, reading: Reading) -> Decision:
    return decide(value, bound, limit.sense, reading.u, limit.guard_factor, again=reading.again)


def _breach(check: str, breach: Verdict, zone: str | None) -> Verdict:
    """Keep "fix this shift" away from the back and from missing bolts."""
    overhead = zone == "back" or check in NEVER_LEFT_FOR_THE_SHIFT
    if breach is Verdict.FIX_THIS_SHIFT and overhead:
        return Verdict.REWORK
    return breach


def _gravest(check: str, limit: Measured) -> Verdict:
    if limit.grave_bound is not None:
        return Verdict.NO_ENTRY
    return _breach(check, limit.breach, None)


def _gravity(one: _Judged, limit: Measured) -> tuple[int, int, Decimal]:
    far = one.value if limit.sense == "at most" else -one.value
    return one.verdict.gravity, one.holds.gravity, far


def _places(
    bad: Sequence[Reading], governing: _Judged | None, unseen: Sequence[Place]
) -> tuple[Place, ...]:
    if bad or unseen or governing is None:
        return (*unseen, *(reading.place() for reading in bad))
    return (governing.reading.place(),)


def _job(one: _Judged) -> str | None:
    if one.verdict is Verdict.ACCEPT:
        return None
    if one.verdict is Verdict.MEASURE_AGAIN:
        return f"measure again by a better method: {one.reading.place().words}"
    return None if one.reading.fix is None else one.reading.fix()


def _jobs(jobs: Iterable[str | None]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(job for job in jobs if job))


def _how(check: Check, unseen: Sequence[Place]) -> str:
    if not unseen:
        return check.how
    words = [place.words for place in unseen[:3]]
    more = [f"and {len(unseen) - 3} more"] if len(unseen) > len(words) else []
    return f"{check.how}; not looked at: {', '.join([*words, *more])}"


def _basis(check: Check, governing: _Judged | None) -> str:
    if governing is None or governing.reading.u == 0:
        return check.basis
    return f"{check.basis}; {_likely(governing.decision)} within the limit".removeprefix("; ")


def _likely(decision: Decision) -> str:
    per_cent = round(100 * decision.conformance)
    if per_cent in (0, 100):
        return "hardly likely" if per_cent == 0 else "almost certainly"
    return f"{per_cent} % likely"


def _doubt(u: Decimal, step: Decimal) -> str | None:
    return None if u == 0 else text(rounded(u, step))
