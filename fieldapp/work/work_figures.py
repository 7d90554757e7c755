"""What may be stated of the work of a round: never demanded, never by name, nothing prefilled."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import Final

from fieldapp.work.questions import Asker
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import (
    AnyTouch,
    BoltsOfTypeUsed,
    CapsulesUsed,
    CrewCounted,
    Delayed,
    MeshAreaUsed,
    MeshUsed,
    MethodNamed,
    NobodyBeyond,
    NotDelayed,
    PlatesUsed,
    SupportBegun,
    SupportFinished,
    WentBeyond,
)
from fieldapp.work.work_doubts import work_doubts
from schemas.bodies.work_seen import BoltsUsed, Delay, WorkSeen
from schemas.standard import BoltType

WHY_BEYOND: Final = (
    "to free a machine or tool",
    "to place mesh by hand",
    "to bar down",
    "to mark or wash the face",
    "to charge the face",
    "another reason, told to the supervisor",
)
CAUSES: Final = (
    "machine broke down",
    "waited for bolts or mesh",
    "no air, water or power",
    "barred down again",
    "another job in the heading",
    "called away",
)
DELAY_MINUTES: Final = (10, 20, 30, 45, 60, 90)
HOURS_BACK: Final = 12
MINUTES_APART: Final = 5
MOST_PEOPLE: Final = 6
NOT_STATED: Final = ""


@dataclass(frozen=True)
class Typed:
    """An answer that is typed on the large pad."""

    unit: str
    decimals: int
    largest: str
    touch: Callable[[Decimal], AnyTouch]
    smallest: str = "0"


@dataclass(frozen=True)
class Answer:
    """One answer on a key; `then` asks on."""

    label: str
    touch: AnyTouch | None = None
    then: "Figure | None" = None


@dataclass(frozen=True)
class Figure:
    """One thing that may be stated, and what was said of it."""

    ask: str
    said: str
    answers: tuple[Answer, ...] = ()
    typed: Typed | None = None


def work_figures(work: RoundWork, asker: Asker) -> tuple[Figure, ...]:
    """Give everything that may be stated of the work of a round."""
    seen = work.seen.work or WorkSeen()
    return (
        _beyond(seen, asker),
        _clock(
            "Support: when was it started?",
            seen.started_at,
            asker,
            lambda at: SupportBegun(at=asker.at, by=asker.by, started_at=at),
        ),
        _clock(
            "Support: when was it finished?",
            seen.finished_at,
            asker,
            lambda at: SupportFinished(at=asker.at, by=asker.by, finished_at=at),
        ),
        _method(seen, asker),
        _crew(seen, asker),
        _delays(seen, asker),
        *_used(work, seen, asker),
    )


def asked_first(work: RoundWork, touch: AnyTouch, asker: Asker) -> tuple[str, ...]:
    """Say what is asked before a touch is kept: what of the times can hardly be so by it."""
    before, after = work.seen.work, work.touched(touch).seen.work
    known = work_doubts(before, asker.at)
    return tuple(it for it in work_doubts(after, asker.at) if it not in known)


def are_stated(work: RoundWork) -> bool:
    """Tell whether anything was stated of the work of a round."""
    return work.seen.work not in (None, WorkSeen())


def _beyond(seen: WorkSeen, asker: Asker) -> Figure:
    said = {None: NOT_STATED, False: "nobody", True: f"yes, {seen.beyond_reason}"}
    why = Figure(
        ask="Beyond the last row: why?",
        said=NOT_STATED,
        answers=tuple(
            Answer(it, WentBeyond(at=asker.at, by=asker.by, reason=it)) for it in WHY_BEYOND
        ),
    )
    return Figure(
        ask="Did anyone have to go beyond the last row?",
        said=said[seen.beyond_last_row],
        answers=(
            Answer("Nobody", NobodyBeyond(at=asker.at, by=asker.by)),
            Answer("Yes", then=why),
        ),
    )


def _clock(
    ask: str, known: datetime | None, asker: Asker, touch: Callable[[datetime], AnyTouch]
) -> Figure:
    """Ask for a time of the last hours: the hour first, then the minutes."""
    zone = asker.at.tzinfo
    newest = asker.at.replace(minute=0, second=0, microsecond=0)
    hours = [newest - timedelta(hours=back) for back in range(HOURS_BACK)]
    return Figure(
        ask=ask,
        said=f"{known.astimezone(zone):%H:%M}" if known else NOT_STATED,
        answers=tuple(
            Answer(
                f"{hour:%H}…", then=Figure(ask, NOT_STATED, tuple(_minutes(hour, asker, touch)))
            )
            for hour in hours
        ),
    )


def _minutes(
    hour: datetime, asker: Asker, touch: Callable[[datetime], AnyTouch]
) -> Iterator[Answer]:
    for minutes in range(0, 60, MINUTES_APART):
        at = hour + timedelta(minutes=minutes)
        if at <= asker.at:
            yield Answer(f"{at:%H:%M}", touch(at.astimezone(UTC)))


def _method(seen: WorkSeen, asker: Asker) -> Figure:
    return Figure(
        ask="How was it supported?",
        said=seen.method or NOT_STATED,
        answers=(
            Answer("hand-held", MethodNamed(at=asker.at, by=asker.by, method="hand-held")),
            Answer("mechanised", MethodNamed(at=asker.at, by=asker.by, method="mechanised")),
        ),
    )


def _crew(seen: WorkSeen, asker: Asker) -> Figure:
    def counted(people: Decimal) -> AnyTouch:
        return CrewCounted(at=asker.at, by=asker.by, people=int(people))

    return Figure(
        ask="How many people did it?",
        said=str(seen.crew_size or NOT_STATED),
        answers=tuple(Answer(str(it), counted(Decimal(it))) for it in range(1, MOST_PEOPLE + 1)),
        typed=Typed("people", 0, "60", counted, smallest="1"),
    )


def _delays(seen: WorkSeen, asker: Asker) -> Figure:
    told = [f"{it.minutes} min, {it.cause}" for it in seen.delays or ()]
    nothing = NOT_STATED if seen.delays is None else "none"
    causes = (Answer(cause, then=_how_long(cause, asker)) for cause in CAUSES)
    return Figure(
        ask="What held it up?",
        said="; ".join(told) or nothing,
        answers=(Answer("Nothing", NotDelayed(at=asker.at, by=asker.by)), *causes),
    )


def _how_long(cause: str, asker: Asker) -> Figure:
    def delayed(minutes: Decimal) -> AnyTouch:
        delay = Delay(minutes=int(minutes), cause=cause)
        return Delayed(at=asker.at, by=asker.by, delay=delay)

    return Figure(
        ask="How long did it hold up the work?",
        said=NOT_STATED,
        answers=tuple(Answer(f"{it} min", delayed(Decimal(it))) for it in DELAY_MINUTES),
        typed=Typed("min", 0, "1440", delayed, smallest="1"),
    )


def _used(work: RoundWork, seen: WorkSeen, asker: Asker) -> Iterator[Figure]:
    demanded, used = work.support_class, seen.used
    known = {it.bolt_type: it.bolts for it in used.bolts}
    for bolt in demanded.bolts:
        yield _bolts(bolt, known.get(bolt.code), asker)
    yield _count(
        "How many plates went in?",
        used.plates,
        lambda n: PlatesUsed(at=asker.at, by=asker.by, plates=int(n)),
    )
    if demanded.mesh is not None:
        pieces = "sheets" if demanded.mesh.kind == "sheets of welded mesh" else "strips"
        yield _count(
            f"How many {pieces} of mesh went in?",
            used.mesh_pieces,
            lambda n: MeshUsed(at=asker.at, by=asker.by, pieces=int(n)),
            most="200",
        )
        yield _area(used.mesh_m2, asker)
    if any(bolt.capsule_mm is not None for bolt in demanded.bolts):
        yield _count(
            "How many capsules of resin went in?",
            used.capsules,
            lambda n: CapsulesUsed(at=asker.at, by=asker.by, capsules=int(n)),
            most="9999",
        )


def _bolts(bolt: BoltType, known: int | None, asker: Asker) -> Figure:
    def counted(bolts: Decimal) -> AnyTouch:
        used = BoltsUsed(bolt_type=bolt.code, bolts=int(bolts))
        return BoltsOfTypeUsed(at=asker.at, by=asker.by, used=used)

    return _count(f"How many bolts {bolt.code} went in?", known, counted)


def _area(known: Decimal | None, asker: Asker) -> Figure:
    return Figure(
        ask="How much mesh went in, where not whole pieces?",
        said=NOT_STATED if known is None else f"{known} m²",
        typed=Typed(
            "m²", 1, "10000", lambda it: MeshAreaUsed(at=asker.at, by=asker.by, mesh_m2=it)
        ),
    )


def _count(
    ask: str, known: int | None, touch: Callable[[Decimal], AnyTouch], most: str = "2000"
) -> Figure:
    said = NOT_STATED if known is None else str(known)
    return Figure(ask, said, typed=Typed("", 0, most, touch))
