"""Working out of an office's entries what reports ask for, and judging its rounds again.

Only what new entries can have changed is worked out anew, and a round is judged again only when
something has changed that its judgement follows from. What is kept is never the truth: it may be
dropped at any time, and is whenever its form or the method of judging changes.
"""

import time
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from itertools import islice
from typing import Final, TypeVar

from fieldapp.assess.whole import METHOD_VERSION
from fieldapp.store.archive import SqlArchive
from fieldapp.store.office import Office
from fieldapp.store.office.line import Line
from fieldapp.store.office.line_tables import FORM
from fieldapp.store.office.lines import EntryLine
from fieldapp.store.office.projected import Judged, Overtaken, Projected
from fieldapp.work.authority import at_one_state, counting
from fieldapp.work.entry import entry_by
from fieldapp.work.gathering import READ_FOR_ENTRY, HeadingRecord
from fieldapp.work.hands import Hands
from fieldapp.work.heading_record import record_form
from fieldapp.work.headings import headings
from fieldapp.work.office_lines.damage import damage_lines
from fieldapp.work.office_lines.heading import heading_told
from fieldapp.work.office_lines.intersections import intersection_lines
from fieldapp.work.office_lines.judged import ToJudge, judged
from fieldapp.work.office_lines.mine import conflict_lines, people_lines, tablet_lines
from fieldapp.work.office_lines.utc import utc_text
from fieldapp.work.site import Sight
from sync.ledger import LedgerState
from sync.outcome import Progress, Watcher, nobody

VERSION: Final = f"{FORM}.{METHOD_VERSION}"
CHANGES_EVERYTHING: Final = frozenset(
    {*READ_FOR_ENTRY, "person", "standard", "withdrawal", "deviation"}
)
"""Kinds that have their say in every heading where they name none."""
READ_AT_ONCE: Final = 8
"""So many headings are in memory at a time."""
KEPT_AT_ONCE: Final = 20
FEW: Final = 30
"""So many rounds are judged before it is worth while to start other processes."""

_Item = TypeVar("_Item")


@dataclass
class WorkedOut:
    """How much there was to do."""

    headings: int = 0
    judged: int = 0
    overtaken: bool = False
    """Whether a collation that began later does the rest."""


@dataclass(frozen=True)
class _Work:
    office: Office
    projected: Projected
    sight: Sight
    several: Hands
    watch: Watcher
    done: WorkedOut = field(default_factory=WorkedOut)
    began_s: float = field(default_factory=time.monotonic)

    def tell(self, headings: int) -> None:
        """Tell the watcher how far it is."""
        lasted_s = time.monotonic() - self.began_s
        self.watch(Progress("working out", self.done.headings, headings, 0, lasted_s))


def work_out(
    office: Office, sight: Sight, at: datetime, several: Hands, *, watch: Watcher = nobody
) -> WorkedOut:
    """Bring what reports ask for up to the entries that the office holds.

    Parameters
    ----------
    office : Office
        The database.
    sight : Sight
        Its entries, to look at.
    at : datetime
        The time for which it is asked where people may go.
    several : Hands
        What judges many rounds.
    watch : Watcher
        Told of each step; may stop it: what was judged by then is not judged again.
    """
    work = _Work(office, Projected(office.database), sight, several, watch)
    try:
        _work_out(work, at)
    except Overtaken:
        work.done.overtaken = True
    return work.done


def _work_out(work: _Work, at: datetime) -> None:
    sight, projected = work.sight, work.projected
    reached = projected.make_ready(VERSION)
    state = work.office.ledger.state()
    with at_one_state(sight, anew=True):
        known = {it.id for it in headings(sight)}
    changed = known if reached is None else known & _changed(projected, reached, state, known)
    for some in _some_at_once(sorted(changed), READ_AT_ONCE):
        with at_one_state(sight, anew=True):
            for heading_id in some:
                work.tell(len(changed))
                _work_out_heading(work, heading_id)
    with at_one_state(sight, anew=True):
        _work_out_mine(work, known, at)
    projected.finish(state)


def _changed(
    projected: Projected, reached: LedgerState, now: LedgerState, known: set[str]
) -> set[str]:
    """Give the headings that may be another since a state of the ledger."""
    if reached.belief != now.belief:
        return known
    touched = projected.touched(reached.newest)
    return known if touched.kinds_about_none & CHANGES_EVERYTHING else set(touched.headings)


def _work_out_heading(work: _Work, heading_id: str) -> None:
    told = heading_told(work.sight, heading_id, work.projected.tablets_of)
    wanted = {it.round_revision: it for it in told.to_judge}
    kept = work.projected.judged(heading_id)
    work.projected.forget_judged(kept.keys() - wanted.keys())
    to_do = [it for it in told.to_judge if kept.get(it.round_revision) != it.judged_by]
    for some in _some_at_once(_judged(work.several, to_do), KEPT_AT_ONCE):
        work.projected.put_judged(heading_id, some)
    content = record_form().dump_json(told.record)
    work.projected.put_heading(heading_id, content, told.lines)
    work.done.headings += 1
    work.done.judged += len(to_do)


def _judged(several: Hands, to_do: Sequence[ToJudge]) -> Iterator[Judged]:
    if len(to_do) <= FEW:
        return map(judged, to_do)
    return (it for _, it in several.do(judged, to_do))


def _work_out_mine(work: _Work, known: set[str], at: datetime) -> None:
    projected, archive = work.projected, SqlArchive(work.office.database, work.office.trust)
    kept = projected.records()
    for heading_id in kept.keys() - known:
        projected.forget_judged(projected.judged(heading_id).keys())
        projected.forget_heading(heading_id)
    here = (record_form().validate_json(kept[it]) for it in sorted(kept.keys() & known))
    projected.put_mine(
        [
            *(line for it in here for line in _lines_at(work.sight, at, it)),
            *people_lines(counting(work.sight).roster),
            *tablet_lines(archive),
            *conflict_lines(work.sight, projected),
        ]
    )


def _lines_at(sight: Sight, at: datetime, record: HeadingRecord) -> Iterator[Line]:
    """Yield what a heading comes to at a time, which may be another an hour later."""
    yield _entry_line(sight, at, record)
    yield from damage_lines(sight, at, record)
    yield from intersection_lines(sight, at, record)


def _entry_line(sight: Sight, at: datetime, record: HeadingRecord) -> EntryLine:
    it = entry_by(sight, record, at)
    return EntryLine(
        heading_id=record.heading_id,
        as_at=utc_text(at),
        line_m=float(it.line_m),
        outbye=it.outbye,
        face_m=float(it.face_m),
        beyond=it.beyond or None,
        mark=it.mark,
        because="; ".join(it.because),
        until=utc_text(it.until) if it.until else None,
        cut_off=it.cut_off,
        metres_not_signed=float(it.metres_not_signed),
        deviations="; ".join(deviation.title for deviation in it.deviations),
        doubts="; ".join(doubt.title for doubt in it.doubts),
        failed_tests="; ".join(test.title for test in it.failed_tests),
        signed_m=float(it.coverage.signed_m),
        fired_m=float(it.coverage.fired_m),
    )


def _some_at_once(items: Iterable[_Item], most: int) -> Iterator[list[_Item]]:
    waiting = iter(items)
    while some := list(islice(waiting, most)):
        yield some
