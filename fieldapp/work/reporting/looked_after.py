"""What a report says of condition walks and tests of support: made, due and late."""

from collections.abc import Iterator, Sequence

from fieldapp.work.bolt_tests.recording import BoltTestKnown, heading_tests
from fieldapp.work.called import called
from fieldapp.work.known import current
from fieldapp.work.people import name_of
from fieldapp.work.photo.photographs import photos_of
from fieldapp.work.reporting.damages import photos_told
from fieldapp.work.reporting.facts import (
    StretchTold,
    TestsDue,
    TestTold,
    WalkDue,
    WalkTold,
)
from fieldapp.work.reporting.then import Reported
from fieldapp.work.standard_in_force import NoStandard
from fieldapp.work.walk.plan import plan_of_month
from fieldapp.work.walk.section_due import NoWalkRule
from schemas.bodies.bolt_test import BoltTest
from schemas.bodies.walk import SectionSeen, Walk


def walks_told(on: Reported, heading_id: str) -> Iterator[WalkTold]:
    """Tell of the outings in a heading, in the order in which they were made."""
    known = current(on.sight, "walk", Walk, heading=heading_id)
    for it in sorted(known, key=lambda it: (it.body.began_at, it.id)):
        answers = [section.answer for section in it.body.sections]
        yield WalkTold(
            month=it.body.month,
            began_at=it.body.began_at,
            by=name_of(on.sight, it.entry.author),
            from_m=min(section.from_m for section in it.body.sections),
            to_m=max(section.to_m for section in it.body.sections),
            stretches=tuple(_stretches(it.body.sections)),
            sections=len(answers),
            something_new=answers.count("something new"),
            not_reached=answers.count("not reached"),
            damages=len({one for section in it.body.sections for one in section.damages}),
        )


def _stretches(sections: Sequence[SectionSeen]) -> Iterator[StretchTold]:
    """Join the sections that lie beside each other."""
    joined: list[StretchTold] = []
    for it in sorted(sections, key=lambda it: (it.from_m, it.to_m)):
        if joined and it.from_m <= joined[-1].to_m:
            from_m, to_m = joined[-1].from_m, max(joined[-1].to_m, it.to_m)
            joined[-1] = StretchTold(from_m=from_m, to_m=to_m)
        else:
            joined.append(StretchTold(from_m=it.from_m, to_m=it.to_m))
    yield from joined


def walk_due(on: Reported, heading_id: str, month: str) -> WalkDue | None:
    """Tell what of a month's walk is due still; None where no standard says how to walk."""
    try:
        plan = plan_of_month(on.sight, heading_id, month, draw=False)
    except (NoStandard, NoWalkRule):
        return None
    late = [it for it in plan.sections if it.late_days > 0]
    return WalkDue(
        sections=plan.there,
        due=len(plan.sections),
        late=len(late),
        latest_days=max((it.late_days for it in late), default=0),
        never_looked_at=sum(it.last is None for it in plan.sections),
    )


def tests_told(on: Reported, heading_id: str) -> tuple[tuple[TestTold, ...], tuple[TestsDue, ...]]:
    """Tell of the tests in a heading, the newest first, and of those that are due."""
    known = heading_tests(on.sight, heading_id, on.at)
    due = (
        TestsDue(
            kind=it.kind,
            bolt_type=it.bolt_type,
            tests=it.tests,
            of=it.of,
            from_m=it.from_m,
            to_m=it.to_m,
            because=f"{it.why}: {it.words} ({it.clause})",
        )
        for it in known.due
        if it.is_due(on.at)
    )
    return tuple(_test(on, it) for it in known.tests), tuple(due)


def _touched_over_s(test: BoltTest) -> int | None:
    """Give how long the tablet was touched over a pull; None where its readings have no times."""
    times = [it for it in (*(one.read_at for one in test.pulled), test.hold_told_at) if it]
    return int((max(times) - min(times)).total_seconds()) if len(times) > 1 else None


def _test(on: Reported, it: BoltTestKnown) -> TestTold:
    test, result = it.test, it.result
    return TestTold(
        id=it.id,
        label=called(it.id),
        kind=test.kind,
        tested_at=test.tested_at,
        why=test.why,
        chainage_m=test.chainage_m,
        s_m=test.s_m,
        zone=test.zone,
        bolt_type=test.bolt_type,
        batch=test.batch,
        crew=test.crew,
        outcome=result.outcome,
        because=result.because,
        touched_over_s=_touched_over_s(test),
        limit=result.limit,
        clause=result.clause,
        photos=tuple(photos_told(photos_of(on.sight, it.id))),
    )
