"""What a round asks after its rows: mesh, shotcrete, torque, and the last row to the face."""

from collections.abc import Iterator
from datetime import timedelta
from decimal import Decimal

from fieldapp.assess.readings import PROBES
from fieldapp.work.demanded import laps_in_round, torque_positions_in_round
from fieldapp.work.questions.question import Asker, Choice, Digits, Question
from fieldapp.work.questions.readings import ALONG_THE_FACE, TAPED, LengthAsked, around
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import (
    AnyTouch,
    FaceRead,
    LapHeld,
    LapRead,
    LastRowMarked,
    MeshAboveFloor,
    MeshToFace,
    MeshWhole,
    ShotcreteSprayed,
    StrengthRead,
    ThicknessRead,
    TorqueRead,
)
from schemas.bodies.round import FaceReading, LapSeen, LengthReading, Method


def mesh(work: RoundWork, asker: Asker) -> Iterator[Question]:
    """Yield the questions about laps, reach, holes and bagging."""
    if work.support_class.mesh is None:
        return
    for number in range(1, laps_in_round(work) + 1):
        lap = next((lap for lap in work.seen.laps if lap.number == number), LapSeen(number=number))
        if work.support_class.limits.mesh_lap is not None:
            yield _lap(work, asker, lap)
        if work.support_class.limits.lap_held is not None:
            yield _lap_held(asker, lap)
    yield from _reach(work, asker)
    if work.support_class.limits.mesh_holes is not None:
        yield _whole(work, asker)


def shotcrete(work: RoundWork, asker: Asker) -> Iterator[Question]:
    """Yield the questions about shotcrete, where the class has any."""
    if work.support_class.shotcrete is None:
        return
    yield _sprayed(work, asker)
    if work.support_class.limits.shotcrete_thickness is not None:
        for probe in range(PROBES):
            yield _thickness(work, asker, probe)
    if work.support_class.shotcrete.curing.strength_mpa is not None:
        yield _strength(work, asker)


def torque(work: RoundWork, asker: Asker) -> Iterator[Question]:
    """Yield a question for each bolt that the torque rule names."""
    limit = work.support_class.limits.torque
    if limit is None:
        return
    low, high = limit.at_least_nm, limit.at_most_nm
    middle = ((low + high) / 2).quantize(Decimal(10))
    values = (low - 20, low + 10, middle, high - 10, high + 20)
    for bolt, (row, position) in torque_positions_in_round(work):

        def taken(value: Decimal, _method: Method, bolt: int = bolt) -> AnyTouch:
            return TorqueRead(at=asker.at, by=asker.by, bolt=bolt, torque_nm=value)

        yield Question(
            key=f"torque {bolt}",
            stage="torque",
            ask=f"Torque of bolt {bolt}: row {row}, bolt {position} from the left.",
            hint=f"From {low} to {high} N·m. {limit.because}",
            choices=tuple(
                Choice(f"{value.normalize():f}", taken(value, "tape"), "N·m")
                for value in values
                if value > 0
            ),
            digits=Digits(
                unit="N·m",
                limit=f"{low} to {high}",
                decimals=0,
                least=Decimal(0),
                most=Decimal(2_000),
                methods=(),
                touch=taken,
            ),
            answered=any(
                read.bolt == bolt and (read.again or f"torque {bolt}" not in asker.again)
                for read in work.seen.torques
            ),
            row=row,
            position=position,
            checks=("torque",),
        )


def last(work: RoundWork, asker: Asker) -> Iterator[Question]:
    """Yield the last questions: the last row marked, and its distance from the face."""
    yield Question(
        key="last row marked",
        stage="last",
        ask="Last row painted or signed, so that nobody passes it?",
        hint="Paint, tape or a sign at the last row.",
        choices=(
            Choice("Yes", LastRowMarked(at=asker.at, by=asker.by, marked=True)),
            Choice("No", LastRowMarked(at=asker.at, by=asker.by, marked=False)),
        ),
        answered=work.seen.last_row_marked is not None,
        checks=("last_row_marked",),
    )
    for where in ("left", "middle", "right"):
        yield _to_face(work, asker, where)


def _lap(work: RoundWork, asker: Asker, lap: LapSeen) -> Question:
    limit = work.support_class.limits.mesh_lap
    demanded = limit.at_least_openings if limit else 0
    bound = f"at least {limit.at_least_mm} mm, {demanded} openings" if limit else ""

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
    limit = work.support_class.limits.mesh_reach
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
    yield Question(
        key="mesh to face",
        stage="mesh",
        ask="Mesh: from its last edge held by plates to the face?",
        hint=f"Read from behind the last row. At most {limit.to_face_at_most_m} m.",
        choices=reach.choices(),
        digits=reach.digits(),
        answered=reach.is_answered_by(work.seen.mesh.to_face),
        where="mesh to the face",
        checks=("mesh_reach",),
    )
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
        hint=f"At most {limit.above_floor_at_most_m} m.",
        choices=edge.choices(),
        digits=edge.digits(),
        answered=edge.is_answered_by(work.seen.mesh.above_floor),
        where="mesh above the floor",
        checks=("mesh_reach",),
    )


def _whole(work: RoundWork, asker: Asker) -> Question:
    mesh = work.seen.mesh
    found = bool(mesh.holes or mesh.bags)
    return Question(
        key="mesh whole",
        stage="mesh",
        ask="Any hole larger than one opening, or mesh bagged with rock?",
        hint="If there is one, touch the map where it is.",
        choices=(
            Choice(
                "No other" if found else "None seen",
                MeshWhole(at=asker.at, by=asker.by),
                "looked at all of it",
            ),
        ),
        answered=mesh.no_holes is not None and mesh.no_bagging is not None,
        checks=("mesh_holes", "mesh_bagging"),
    )


def _sprayed(work: RoundWork, asker: Asker) -> Question:
    choices = []
    for hours in (1, 2, 4, 8, 24):
        sprayed_at = asker.at - timedelta(hours=hours)
        touch = ShotcreteSprayed(at=asker.at, by=asker.by, sprayed_at=sprayed_at)
        choices.append(Choice(f"{hours} h ago", touch, sprayed_at.strftime("%H:%M UTC")))
    return Question(
        key="sprayed",
        stage="shotcrete",
        ask="Shotcrete: when was it sprayed?",
        hint="Nobody under it until it has cured.",
        choices=tuple(choices),
        answered=work.seen.shotcrete.sprayed_at is not None,
        checks=("curing",),
    )


def _thickness(work: RoundWork, asker: Asker, probe: int) -> Question:
    limit = work.support_class.limits.shotcrete_thickness
    bound = limit.at_least_mm if limit else Decimal(0)

    def taken(value: Decimal, _method: Method) -> AnyTouch:
        return ThicknessRead(at=asker.at, by=asker.by, thickness_mm=value)

    places = ("left shoulder", "back", "right shoulder")
    return Question(
        key=f"thickness {probe}",
        stage="shotcrete",
        ask=f"Shotcrete: thickness at a probe, {places[probe % len(places)]}?",
        hint=f"At least {bound} mm.",
        choices=tuple(
            Choice(f"{value}", taken(value, "tape"), "mm")
            for value in (bound - 20, bound - 10, bound, bound + 10, bound + 20)
            if value > 0
        ),
        digits=Digits("mm", f"at least {bound}", 0, Decimal(0), Decimal(1_000), (), taken),
        answered=len(work.seen.shotcrete.thickness_mm) > probe,
        checks=("shotcrete_thickness",),
    )


def _strength(work: RoundWork, asker: Asker) -> Question:
    sprayed = work.support_class.shotcrete
    bound = sprayed.curing.strength_mpa if sprayed else None

    def taken(value: Decimal, _method: Method) -> AnyTouch:
        return StrengthRead(at=asker.at, by=asker.by, strength_mpa=value)

    return Question(
        key="strength",
        stage="shotcrete",
        ask="Shotcrete: early strength by test?",
        hint=f"At least {bound} MPa before anybody goes under it.",
        choices=(),
        digits=Digits("MPa", f"at least {bound}", 1, Decimal(0), Decimal(100), (), taken),
        answered=work.seen.shotcrete.strength_mpa is not None,
        checks=("curing",),
    )


def _to_face(work: RoundWork, asker: Asker, where: str) -> Question:
    limit = work.support_class.limits.last_row_to_face

    def taken(reading: LengthReading) -> AnyTouch:
        face = FaceReading.model_validate({"where": where, "reading": reading})
        return FaceRead(at=asker.at, by=asker.by, face=face)

    key = f"face {where}"
    asked = LengthAsked(
        likely_m=around(limit.at_most_m, "0.1", 4, 0),
        limit=f"at most {limit.at_most_m}",
        methods=ALONG_THE_FACE,
        taken=taken,
        again=key in asker.again,
    )
    here = [read.reading for read in work.seen.face_readings if read.where == where]
    return Question(
        key=key,
        stage="last",
        ask=f"Last row to the face, {where}?",
        hint=f"Read from behind the last row, staff or laser. At most {limit.at_most_m} m.",
        choices=asked.choices(),
        digits=asked.digits(),
        answered=asked.is_answered_by(here[-1] if here else None),
        where=f"face, {where}",
        checks=("last_row_to_face", "largest_gap"),
    )
