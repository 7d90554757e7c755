"""What is known of one heading: its history, for a report of its own or of a month."""

import time
from dataclasses import dataclass
from datetime import datetime, tzinfo
from typing import TypedDict
from zoneinfo import ZoneInfo

from fieldapp.assess.entry.facts import HeadingFacts as EntryFacts
from fieldapp.assess.entry.state import EntryState
from fieldapp.assess.whole import METHOD_VERSION
from fieldapp.work.authority import at_one_state
from fieldapp.work.damage.stating import damages
from fieldapp.work.damage_record import judge
from fieldapp.work.entry import entry_by, heading_facts
from fieldapp.work.events import events
from fieldapp.work.heading_record import heading_record
from fieldapp.work.headings import heading
from fieldapp.work.known import Known, current
from fieldapp.work.rehab.revisions import strictest_of
from fieldapp.work.reporting.damages import damage_told, repair_told
from fieldapp.work.reporting.facts import (
    EntryTold,
    HeadingFacts,
    HeadingTold,
    RoundFacts,
)
from fieldapp.work.reporting.intersections import intersections_told
from fieldapp.work.reporting.looked_after import tests_told, walk_due, walks_told
from fieldapp.work.reporting.months import Told, month_of, months_told
from fieldapp.work.reporting.rounds import events_told, round_told, with_findings
from fieldapp.work.reporting.steel import steel_told
from fieldapp.work.reporting.then import Reported
from fieldapp.work.reporting.told import (
    DamageTold,
    RepairTold,
    RoundTold,
)
from fieldapp.work.reporting.trended import OF_ONE, Sampled, take_in, trends_told
from fieldapp.work.rounds import find_round, rounds
from fieldapp.work.trends.summing import Months
from schemas.bodies.heading import Heading, Rechained, SurveyedPoint
from schemas.bodies.rehab import Rehab
from schemas.standard import SupportClass
from sync.outcome import Progress, Watcher, nobody


@dataclass(frozen=True)
class Gathered:
    """Everything that was stated of a heading and can be told without judging its rounds."""

    place: Known[Heading]
    told: HeadingTold
    facts: EntryFacts
    rounds: tuple[RoundTold, ...]
    damages: tuple[DamageTold, ...]
    """The most urgent first; what is restored at the end."""
    repairs: tuple[RepairTold, ...]

    @property
    def for_months(self) -> Told:
        """What its months follow from."""
        return Told(self.facts, self.rounds, self.damages, self.repairs)


def gathered_heading(on: Reported, heading_id: str) -> Gathered:
    """Gather a heading as it was known at the report's time."""
    sight = on.sight
    place = heading(sight, heading_id)
    record = heading_record(sight, place.id)
    known = [damage_told(on, it) for it in damages(sight, on.at, place.id)]
    seen = tuple(round_told(on, it, record) for it in rounds(sight, place.id))
    left = [it for it in known if it.outcome != "restored"]
    told = HeadingTold(
        id=place.id,
        name=place.body.name,
        level=place.body.level,
        support_class=place.body.support_class,
        entry=_entry(entry_by(sight, record, on.at)),
        open_damage=len(left),
        overdue=sum(it.overdue_days is not None for it in left),
    )
    facts = heading_facts(sight, record, on.at)
    return Gathered(place, told, facts, seen, tuple(known), _repairs(on, place.id))


def round_report(on: Reported, name: str) -> RoundFacts:
    """Gather one round, by its id or heading and number.

    Raises
    ------
    NoSuchRound
        Nothing of that name is recorded.
    """
    sight = on.sight
    with at_one_state(sight, anew=True):
        seen = find_round(sight, name)
        all_of = gathered_heading(on, seen.body.heading)
        told = next(it for it in all_of.rounds if it.id == seen.id)
        return RoundFacts(
            **about(on),
            **_placed(on, all_of),
            rounds=(with_findings(on, told, seen),),
            damages=tuple(
                it
                for it in all_of.damages
                if it.from_m <= told.last_row_m and it.to_m >= told.joint_m
            ),
        )


def heading_report(on: Reported, name: str, watch: Watcher = nobody) -> HeadingFacts:
    """Gather a heading's history.

    Raises
    ------
    NoSuchHeading
        Nothing of that name is known.
    Stopped
        The watcher stopped it.
    """
    began_s, sight = time.monotonic(), on.sight
    with at_one_state(sight, anew=True):
        all_of = gathered_heading(on, heading(sight, name).id)
        stated = rounds(sight, all_of.place.id)
        seen = []
        for number, (told, known) in enumerate(zip(all_of.rounds, stated, strict=True)):
            elapsed_s = time.monotonic() - began_s
            watch(Progress("judging rounds", number, len(stated), 0, elapsed_s))
            seen.append(with_findings(on, told, known))
        happened = events(sight, all_of.place.id)
        tests, due = tests_told(on, all_of.place.id)
        record = heading_record(sight, all_of.place.id)
        samples: Sampled = {}
        take_in(samples, sight, all_of.place)
        return HeadingFacts(
            **about(on),
            **_placed(on, all_of),
            rounds=tuple(seen),
            events=tuple(events_told(on, happened, record)),
            damages=all_of.damages,
            repairs=all_of.repairs,
            walks=tuple(walks_told(on, all_of.place.id)),
            walk_due=walk_due(on, all_of.place.id, month_of(on.at, zone_of(on))),
            steel=tuple(steel_told(on, all_of.place.id)),
            tests=tests,
            tests_due=due,
            intersections=tuple(intersections_told(on, record)),
            months=months_told(all_of.for_months, on.at, zone_of(on)),
            trends=trends_told(samples, OF_ONE, months_of(on)),
        )


class _Placed(TypedDict):
    """Where a heading is, and what is demanded there."""

    heading: HeadingTold
    support: SupportClass | None
    surveyed: tuple[SurveyedPoint, ...]
    rechained: tuple[Rechained, ...]


def _placed(on: Reported, all_of: Gathered) -> _Placed:
    body = all_of.place.body
    return _Placed(
        heading=all_of.told,
        support=judge(on.sight, body.support_class, on.at).demanded,
        surveyed=body.surveyed,
        rechained=body.rechained,
    )


class About(TypedDict):
    """What every report says of itself."""

    mine: str
    demo: bool
    zone: str
    as_at: datetime
    method_version: int
    lacking: tuple[str, ...]


def about(on: Reported) -> About:
    """Give what a report says of itself."""
    return About(
        mine=on.sight.mine.name,
        demo=on.sight.mine.demo,
        zone=on.sight.settings.zone,
        as_at=on.at,
        method_version=METHOD_VERSION,
        lacking=on.lacking,
    )


def zone_of(on: Reported) -> tzinfo:
    """Give the mine's own clock."""
    return ZoneInfo(on.sight.settings.zone)


def months_of(on: Reported) -> Months:
    """Give the months up to that of the report, by the mine's own clock."""
    return Months(ZoneInfo(on.sight.settings.zone), on.at)


def _repairs(on: Reported, heading_id: str) -> tuple[RepairTold, ...]:
    """Give each repair once, as the strictest of its revisions has it, in the order of places."""
    heads: dict[str, list[Known[Rehab]]] = {}
    for it in current(on.sight, "rehab", Rehab, heading=heading_id):
        heads.setdefault(it.id, []).append(it)
    told = (repair_told(on, strictest_of(of_one)) for of_one in heads.values())
    return tuple(sorted(told, key=lambda it: (it.from_m, it.id)))


def _entry(state: EntryState) -> EntryTold:
    return EntryTold(
        line_m=state.line_m,
        face_m=state.face_m,
        outbye=state.outbye,
        beyond=state.beyond,
        because=tuple(state.because),
        mark=state.mark,
        signed_m=state.coverage.signed_m,
        fired_m=state.coverage.fired_m,
    )
