"""What a report says of a month: every heading, or some of them."""

import time
from collections.abc import Sequence
from datetime import datetime, tzinfo

from fieldapp.work.authority import at_one_state
from fieldapp.work.headings import heading, headings
from fieldapp.work.known import Known
from fieldapp.work.rehab.rehab_list import RehabRow, in_order, rehab_rows
from fieldapp.work.reporting.facts import HeadingMonth, MonthFacts, MonthTold
from fieldapp.work.reporting.heading import Gathered, about, gathered_heading, months_of, zone_of
from fieldapp.work.reporting.looked_after import tests_told, walk_due, walks_told
from fieldapp.work.reporting.months import month_of, months_told, together
from fieldapp.work.reporting.rehab import rehab_lines
from fieldapp.work.reporting.rounds import judged_by_both
from fieldapp.work.reporting.then import Reported
from fieldapp.work.reporting.told import RoundTold
from fieldapp.work.reporting.trended import OF_SEVERAL, Sampled, take_in, trends_told
from fieldapp.work.reporting.work_done import Done, done_in, work_done
from fieldapp.work.reporting.worked import materials_told, work_told
from fieldapp.work.rounds import rounds
from fieldapp.work.standard_in_force import of_revision
from schemas.bodies.round import Round
from sync.outcome import Progress, Watcher, nobody


def month_report(
    on: Reported, month: str, names: Sequence[str] = (), watch: Watcher = nobody
) -> MonthFacts:
    """Gather a month, as it is known at the report's time.

    Parameters
    ----------
    on : Reported
        The records.
    month : str
        "2031-05", by the mine's own clock; its end, or the report's time if that is earlier,
        is the time for which everything is asked.
    names : sequence of str
        The headings, in any order; every one where none is named.
    watch : Watcher
        Told of each heading; may stop it.

    Raises
    ------
    NoSuchHeading
        Nothing of a name is known.
    Stopped
        The watcher stopped it.
    """
    began_s, sight, zone = time.monotonic(), on.sight, zone_of(on)
    named = {heading(sight, it).id for it in names}
    wanted = [it.id for it in headings(sight) if not named or it.id in named]
    told, months = [], []
    done: list[Done] = []
    listed: list[RehabRow] = []
    samples: Sampled = {}
    for number, heading_id in enumerate(wanted):
        elapsed_s = time.monotonic() - began_s
        watch(Progress("gathering headings", number, len(wanted), 0, elapsed_s))
        with at_one_state(sight, anew=True):
            known = gathered_heading(on, heading_id)
            of_it = months_told(known.for_months, on.at, zone)
            told.append(_of_month(on, known, of_it[-1], zone))
            months.append(of_it)
            listed += rehab_rows(sight, heading_id, on.at)
            done += done_in(on, known.place)
            take_in(samples, sight, known.place)
    late = [it for it in listed if it.is_overdue]
    with at_one_state(sight, anew=True):
        overdue = rehab_lines(on, in_order(late))
        work = work_done(on, done, month)
    return MonthFacts(
        **about(on),
        month=month,
        every_heading=not names,
        headings=tuple(told),
        overdue=overdue,
        months=together(months),
        work=work,
        trends=trends_told(samples, OF_SEVERAL, months_of(on)),
    )


def _of_month(on: Reported, known: Gathered, month: MonthTold, zone: tzinfo) -> HeadingMonth:
    def within(at: datetime | None) -> bool:
        return at is not None and month_of(at, zone) == month.month

    tests, due = tests_told(on, known.told.id)
    recorded = [it for it in rounds(on.sight, known.told.id) if within(it.entry.made_at)]
    return HeadingMonth(
        heading=known.told,
        month=month,
        rounds=tuple(_with_work(on, it, known.rounds) for it in recorded),
        judged_otherwise=tuple(judged_by_both(on, recorded)),
        found=tuple(it for it in known.damages if within(it.first_seen_at)),
        repaired=tuple(it for it in known.repairs if within(it.verified_at)),
        walks=tuple(it for it in walks_told(on, known.told.id) if within(it.began_at)),
        walk_due=walk_due(on, known.told.id, month.month),
        tests=tuple(it for it in tests if within(it.tested_at)),
        tests_due=due,
    )


def _with_work(on: Reported, seen: Known[Round], several: Sequence[RoundTold]) -> RoundTold:
    """Give what is told of a round, with its work and its take-off by the standard of its day."""
    told, shown = (
        next(it for it in several if it.id == seen.id),
        of_revision(on.sight, seen.body.standard),
    )
    if shown is None:
        return told
    work, materials = work_told(seen.body, shown.body), materials_told(seen.body, shown.body)
    return told.model_copy(update={"work": work, "materials": tuple(materials)})
