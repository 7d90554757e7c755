"""The work of a round in words: how long, by how many and how, and what went in."""

from collections.abc import Iterator
from datetime import tzinfo
from decimal import Decimal

from assets.translate import _
from fieldapp.assess.take_off import (
    Difference,
    compared,
    take_off_of_round,
    times_contradict,
)
from fieldapp.report.words.findings import when
from fieldapp.report.words.take_off import NAMES, plain
from schemas.bodies.round import Round
from schemas.bodies.work_seen import WorkSeen
from schemas.standard import Standard

__all__ = [
    "difference_said",
    "difference_words",
    "kind_words",
    "plain",
    "went_beyond",
    "work_words",
]


def went_beyond(seen: Round) -> str:
    """Give why somebody went beyond the last row; empty where nobody did, or nobody said."""
    if seen.work is None or not seen.work.beyond_last_row:
        return ""
    return seen.work.beyond_reason or "no reason stated"


def work_words(seen: Round, standard: Standard, zone: tzinfo) -> str:
    """Say what is stated of the work of a round; empty where nothing is."""
    if seen.work is None:
        return ""
    return "; ".join((*_how(seen.work, zone), *_used(seen, seen.work, standard)))


def kind_words(it: Difference) -> str:
    """Name what was counted: "Bolts RB24"."""
    return " ".join(filter(None, (_(NAMES[it.kind]), it.of)))


def difference_words(it: Difference) -> str:
    """Say how much more or less went in than the take-off has: "2 more", "as taken off"."""
    return difference_said(it.more)


def difference_said(more: Decimal) -> str:
    """Say a difference from the take-off; less where it is below nought."""
    if not more:
        return _("as taken off")
    template = _("{n} more") if more > 0 else _("{n} less")
    return template.format(n=plain(abs(more)))


def _how(work: WorkSeen, zone: tzinfo) -> Iterator[str]:
    if work.started_at is not None:
        yield _("started {time}").format(time=when(work.started_at, zone))
    if work.finished_at is not None:
        yield _("finished {time}").format(time=when(work.finished_at, zone))
    if work.method is not None:
        yield _(work.method)
    if work.crew_size is not None:
        yield _("{n} people").format(n=work.crew_size)
    for it in work.delays or ():
        yield _("held up {n} min, {cause}").format(n=it.minutes, cause=_(it.cause))
    if times_contradict(work):
        yield _("these times contradict each other: nothing is worked out from them")


def _used(seen: Round, work: WorkSeen, standard: Standard) -> Iterator[str]:
    found = take_off_of_round(standard, seen)
    if found is None:
        return
    for it in compared(found, work.used):
        said = _("{thing} {n} ({difference})")
        much = plain(it.used) + (" m²" if it.kind == "mesh" else "")
        yield said.format(thing=kind_words(it), n=much, difference=difference_words(it))
