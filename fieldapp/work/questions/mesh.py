"""What a round asks about its mesh: laps, what holds them, reach, holes and bagging."""

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from fieldapp.assess.mesh.lapped import laps_of
from fieldapp.assess.seen import seen_in
from fieldapp.work.demanded import laps_in_round
from fieldapp.work.questions.last_row import again_since_rows_changed
from fieldapp.work.questions.question import Asker, Choice, Digits, OnPhoto, Question
from fieldapp.work.questions.readings import ALONG_THE_FACE, TAPED, LengthAsked, around
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import (
    AnyTouch,
    LapHeld,
    LapRead,
    MeshAboveFloor,
    MeshToFace,
    MeshWhole,
)
from schemas.bodies.round import LapSeen, LengthReading, Method, Round
from schemas.standard import SupportClass


def mesh(work: RoundWork, asker: Asker) -> Iterator[Question]:
    """Yield the questions about laps, reach, holes and bagging."""
    if meshed(work).mesh is None:
        return
    counted = _counted_on_sheets(work)
    for number in range(1, laps_in_round(work) + 1):
        lap = next((lap for lap in work.seen.laps if lap.number == number), LapSeen(number=number))
        if meshed(work).limits.mesh_lap is not None:
            asked = _lap(work, asker, lap)
            yield replace(asked, answered=asked.answered or number in counted)
        if meshed(work).limits.lap_held is not None:
            yield _lap_held(asker, lap)
    yield from _reach(work, asker)
    if meshed(work).limits.mesh_holes is not None:
        yield _whole(work, asker)


def _counted_on_sheets(work: RoundWork) -> frozenset[int]:
    """Give the laps that were counted at each of the sheets that were placed there."""
    if not work.seen.sheets:
        return frozenset()
    laps = laps_of(seen_in(work.bundle(work.began.started_at)))
    numbers = {lap.number for lap in laps if lap.number is not None}
    open_still = {lap.number for lap in laps if not lap.is_read}
    return frozenset(numbers - open_still)


def meshed(work: RoundWork) -> SupportClass:
    """Give the class that demands mesh, of two ground domains too."""
    return next((it for it in work.classes if it.mesh is not None), work.support_class)


def _lap(work: RoundWork, asker: Asker, lap: LapSeen) -> Question:
    limit = meshed(work).limits.mesh_lap
    demanded = limit.at_least_openings if limit else 0
    openings = "opening" if demanded == 1 else "openings"
    bound = f"at least {limit.at_least_mm} mm, {demanded} {openings}" if limit else ""

    def counted(openings: int) -> AnyTouch:
        return LapRead(at=asker.at, by=asker.by, lap=lap.number, openings=openings)

    again = f"lap {lap.number}" in asker.again

    def taped(value: Decimal, method: Method) -> AnyTouch:
        return LapRead(
            at=asker.at,
            by=asker.by,
            lap=lap.number,
            least_mm=value,
            method=method,
            again=again,
        )

    def on_photo(value_mm: Decimal, doubt_mm: Decimal) -> AnyTouch:
        return LapRead(
            at=asker.at,
            by=asker.by,
            lap=lap.number,
            least_mm=value_mm,
            method="photo",
            doubt_mm=doubt_mm,
        )

    where = "with the old mesh, at the joint" if lap.number == 1 else "the next one inbye"
    return Question(
        key=f"lap {lap.number}",
        stage="mesh",
        ask=f"Lap {lap.number}, {where}: openings at its narrowest?",
        hint="Count whole openings where the sheets lap least, wall to wall.",
        choices=()
        if again
        else tuple(
            Choice(
                str(n), LapRead(at=asker.at, by=asker.by, lap=lap.number, openings=n), "openings"
            )
            for n in range(max(0, demanded - 2), demanded + 3)
        ),
        digits=Digits(
            unit="mm",
            limit=bound,
            decimals=0,
            least=Decimal(0),
            most=Decimal(2_000),
            methods=("tape", "photo"),
            touch=taped,
            on_photo=None if again else OnPhoto("lap", on_photo),
        ),
        answered=(lap.openings is not None or lap.least_mm is not None)
        and (lap.again or not again),
        where=f"lap {lap.number}",
        checks=("mesh_lap",),
    )


def _lap_held(asker: Asker, lap: LapSeen) -> Question:
    def choice(label: str, where: str | None = None, note: str = "") -> Choice:
        held = where is None
        touch = LapHeld(at=asker.at, by=asker.by, lap=lap.number, held=held, where=where)
        return Choice(label, touch, note)

    return Question(
        key=f"lap held {lap.number}",
        stage="mesh",
        ask=f"Lap {lap.number}: a plate bears on both sheets along the whole lap?",
        hint="Follow it from wall to wall.",
        choices=(
            choice("Yes"),
            choice("Not left", "left wall and shoulder", "no plate"),
            choice("Not back", "back", "no plate"),
            choice("Not right", "right wall and shoulder", "no plate"),
        ),
        answered=lap.held is not None,
        where=f"lap {lap.number}",
        checks=("lap_held",),
    )


def _reach(work: RoundWork, asker: Asker) -> Iterator[Question]:
    limit = meshed(work).limits.mesh_reach
    if limit is None:
        return

    def to_face(reading: LengthReading) -> AnyTouch:
        return MeshToFace(at=asker.at, by=asker.by, reading=reading)

    def above_floor(reading: LengthReading) -> AnyTouch:
        return MeshAboveFloor(at=asker.at, by=asker.by, reading=reading)

    reach = LengthAsked(
        likely_m=around(limit.to_face_at_most_m, "0.2", 3, 1),
        limit=f"at most {limit.to_face_at_most_m}",
        methods=ALONG_THE_FACE,
        taken=to_face,
        again="mesh to face" in asker.again,
    )
    lost = again_since_rows_changed(work, lambda seen: seen.mesh.to_face is not None)
    bound = f"At most {limit.to_face_at_most_m} m."
    yield Question(
        key="mesh to face",
        stage="mesh",
        ask=f"Mesh: from its last edge held by plates to {work.seen.ends_at}?",
        hint=f"{lost} {bound}" if lost else f"Read from behind the last row. {bound}",
        choices=reach.choices(),
        digits=reach.digits(),
        answered=reach.is_answered_by(work.seen.mesh.to_face),
        where="mesh to the face",
        checks=("mesh_reach",),
    )
    lost = again_since_rows_changed(work, lambda seen: seen.mesh.above_floor is not None)
    bound = f"At most {limit.above_floor_at_most_m} m."
    edge = LengthAsked(
        likely_m=around(limit.above_floor_at_most_m, "0.1", 3, 1),
        limit=f"at most {limit.above_floor_at_most_m}",
        methods=TAPED,
        taken=above_floor,
        again="mesh above floor" in asker.again,
    )
    yield Question(
        key="mesh above floor",
        stage="mesh",
        ask="Mesh: lower edge above the floor, on the wall where it is higher?",
        hint=f"{lost} {bound}" if lost else bound,
        choices=edge.choices(),
        digits=edge.digits(),
        answered=edge.is_answered_by(work.seen.mesh.above_floor),
        where="mesh above the floor",
        checks=("mesh_reach",),
    )


def _whole(work: RoundWork, asker: Asker) -> Question:
    mesh = work.seen.mesh
    found = bool(mesh.holes or mesh.bags)
    lost = again_since_rows_changed(work, _is_whole_known)
    return Question(
        key="mesh whole",
        stage="mesh",
        ask="Any hole larger than one opening, or mesh bagged with rock?",
        hint=lost or "If there is one, touch the map where it is.",
        choices=(
            Choice(
                "No other" if found else "None seen",
                MeshWhole(at=asker.at, by=asker.by),
                "looked at all of it",
            ),
        ),
        answered=_is_whole_known(work.seen),
        checks=("mesh_holes", "mesh_bagging"),
    )


def _is_whole_known(seen: Round) -> bool:
    return seen.mesh.no_holes is not None and seen.mesh.no_bagging is not None
