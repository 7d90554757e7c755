"""What a round asks last: shotcrete, torque, and the last row to the face."""

from collections.abc import Iterator
from datetime import UTC, timedelta
from decimal import Decimal

from fieldapp.assess.known_face import nearer_face
from fieldapp.assess.readings import PROBES
from fieldapp.work.demanded import torque_positions_in_round
from fieldapp.work.questions.last_row import again_since_rows_changed
from fieldapp.work.questions.question import Asker, Choice, Digits, Question
from fieldapp.work.questions.readings import ALONG_THE_FACE, LengthAsked, around
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import (
    AnyTouch,
    FaceNearerTold,
    FaceRead,
    LastRowMarked,
    RowInbyeLooked,
    ShotcreteSprayed,
    StrengthRead,
    ThicknessRead,
    TorqueRead,
)
from schemas.bodies.round import FaceNearer, FaceReading, LengthReading, Method, OverOld, Round
from schemas.numbers import text
from schemas.standard import SupportClass

WHY_NEARER = (
    ("Advanced less", "than was reported", "the advance was less than was reported"),
    ("Chainage off", "as it was entered", "the chainage was off as it was entered"),
)
"""Label, note, and the reason as it is kept."""


def shotcrete(work: RoundWork, asker: Asker) -> Iterator[Question]:
    """Yield the questions about shotcrete, where the class has any."""
    demanded = _sprayed_class(work)
    if demanded.shotcrete is None:
        return
    yield _sprayed(work, asker)
    if demanded.limits.shotcrete_thickness is not None:
        for probe in range(PROBES):
            yield _thickness(work, asker, probe)
    if demanded.shotcrete.curing.strength_mpa is not None:
        yield _strength(work, asker)


def torque(work: RoundWork, asker: Asker) -> Iterator[Question]:
    """Yield a question for each bolt that the torque rule names."""
    for bolt, (row, position) in torque_positions_in_round(work):
        limit = work.class_of(row).limits.torque
        if limit is None:
            continue
        low, high = limit.at_least_nm, limit.at_most_nm
        middle = ((low + high) / 2).quantize(Decimal(10))
        values = (low - 20, low + 10, middle, high - 10, high + 20)
        at = {"bolt": bolt, "row": row, "position": position}

        def taken(value: Decimal, _method: Method, at: dict[str, int] = at) -> AnyTouch:
            return TorqueRead(at=asker.at, by=asker.by, torque_nm=value, **at)

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
                read.bolt == bolt
                and not read.gone
                and (read.again or f"torque {bolt}" not in asker.again)
                for read in work.seen.torques
            ),
            row=row,
            position=position,
            checks=("torque",),
        )


def last(work: RoundWork, asker: Asker) -> Iterator[Question]:
    """Yield the last questions: the last row marked, and its distance from the face.

    A face that was known to be farther away asks why it is nearer. New support over old is read
    to the old row that stays inbye, which is looked at.
    """
    if work.seen.over is None:
        yield _marked(work, asker)
    else:
        yield _row_inbye(work.seen.over, asker)
    for where in ("left", "middle", "right"):
        yield _to_face(work, asker, where)
    yield from _nearer(work, asker)


def _row_inbye(over: OverOld, asker: Asker) -> Question:
    return Question(
        key="row inbye",
        stage="last",
        ask=f"Old row inbye, at {over.to_m} m: every bolt there, every plate tight?",
        hint="It stays where the new support ends. Look at each of its bolts.",
        choices=(
            Choice("Yes, all", RowInbyeLooked(at=asker.at, by=asker.by, sound=True)),
            Choice("No", RowInbyeLooked(at=asker.at, by=asker.by, sound=False)),
        ),
        answered=over.row_inbye_sound is not None,
        where=f"the row inbye, at {over.to_m} m",
        checks=("old_rows",),
    )


def _marked(work: RoundWork, asker: Asker) -> Question:
    again = again_since_rows_changed(work, lambda seen: seen.last_row_marked is not None)
    return Question(
        key="last row marked",
        stage="last",
        ask="Last row painted or signed, so that nobody passes it?",
        hint=again or "Paint, tape or a sign at the last row.",
        choices=(
            Choice("Yes", LastRowMarked(at=asker.at, by=asker.by, marked=True)),
            Choice("No", LastRowMarked(at=asker.at, by=asker.by, marked=False)),
        ),
        answered=work.seen.last_row_marked is not None,
        checks=("last_row_marked",),
    )


def _sprayed_class(work: RoundWork) -> SupportClass:
    """Give the class that demands shotcrete, of two ground domains too."""
    return next((it for it in work.classes if it.shotcrete is not None), work.support_class)


def _sprayed(work: RoundWork, asker: Asker) -> Question:
    choices = []
    for hours in (1, 2, 4, 8, 24):
        sprayed_at = (asker.at - timedelta(hours=hours)).astimezone(UTC)
        touch = ShotcreteSprayed(at=asker.at, by=asker.by, sprayed_at=sprayed_at)
        clock = f"{sprayed_at.astimezone(asker.at.tzinfo):%H:%M}"
        choices.append(Choice(f"{hours} h ago", touch, clock))
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
    limit = _sprayed_class(work).limits.shotcrete_thickness
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
    sprayed = _sprayed_class(work).shotcrete
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
    limit = work.class_of(work.seen.rows_planned).limits.last_row_to_face

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

    def read(seen: Round) -> list[LengthReading]:
        return [it.reading for it in seen.face_readings if it.where == where]

    here, lost = read(work.seen), again_since_rows_changed(work, lambda seen: bool(read(seen)))
    bound = f"At most {limit.at_most_m} m."
    return Question(
        key=key,
        stage="last",
        ask=f"Last row to {work.seen.ends_at}, {where}?",
        hint=f"{lost} {bound}"
        if lost
        else f"Read from behind the last row, staff or laser. {bound}",
        choices=asked.choices(),
        digits=asked.digits(),
        answered=asked.is_answered_by(here[-1] if here else None),
        where=f"{work.seen.ends_at.removeprefix('the ')}, {where}",
        checks=("last_row_to_face", "largest_gap"),
    )


def _nearer(work: RoundWork, asker: Asker) -> Iterator[Question]:
    """Yield the question why the face is nearer than it was known to be, where it is."""
    found = nearer_face(work.seen, work.support_class.limits.last_row_to_face.at_most_m)
    if found is None:
        return

    def because(why: str) -> AnyTouch:
        nearer = FaceNearer(known_m=found.known_m, read_m=found.read_m, why=why)
        return FaceNearerTold(at=asker.at, by=asker.by, nearer=nearer)

    read, known = text(found.read_m), text(found.known_m)
    yield Question(
        key="face nearer",
        stage="last",
        ask=f"Face read at {read} m, but known to be at {known} m. Why?",
        hint="A row left out? More, Number of rows. What you say is kept and signed.",
        choices=tuple(Choice(label, because(why), note) for label, note, why in WHY_NEARER),
        answered=found.why is not None,
        where=f"why the face is not at {known} m",
        checks=("last_row_to_face",),
    )
