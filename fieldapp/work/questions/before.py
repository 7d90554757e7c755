"""What a round asks before anybody looks at a bolt."""

from collections.abc import Iterator
from datetime import UTC, timedelta

from fieldapp.work.questions.bolted import bolted
from fieldapp.work.questions.last_row import again_since_rows_changed
from fieldapp.work.questions.question import Asker, Choice, Known, Question
from fieldapp.work.round import RoundWork
from fieldapp.work.touches import (
    BarredAfter,
    BarredBefore,
    BoltingFinished,
    BoltsNamed,
    ButtsAnswered,
    FaceAnswered,
    GroundAnswered,
    PersonCalled,
)
from schemas.bodies.batch import Batch
from schemas.bodies.round import Round
from schemas.standard import BoltType


def before(work: RoundWork, asker: Asker, site: Known) -> Iterator[Question]:
    """Yield the questions that come before the bolts, in order."""
    yield _ground(work, asker)
    yield from _call(work, asker)
    yield _barred_before(work, asker)
    yield _barred_after(work, asker)
    over = work.seen.over
    if over is None:
        yield _face(work, asker)
    if over is None or over.after:
        yield _butts(work, asker)
    yield from bolted(work, asker, site)
    yield _bolts(work, asker, site.batches)
    yield from _finished(work, asker)


def _ground(work: RoundWork, asker: Asker) -> Question:
    def choice(condition: str, note: str = "") -> Choice:
        touch = GroundAnswered.model_validate(
            {"at": asker.at, "by": asker.by, "condition": condition}
        )
        return Choice(condition, touch, note)

    return Question(
        key="ground",
        stage="before",
        ask="Is the ground as expected here?",
        hint="Look and listen from supported ground.",
        choices=(
            choice("as expected"),
            choice("wetter"),
            choice("fault or wedge"),
            choice("noise"),
            choice("spalling"),
        ),
        answered=work.seen.ground is not None,
        checks=("ground_condition",),
    )


def _call(work: RoundWork, asker: Asker) -> Iterator[Question]:
    ground = work.seen.ground
    triggers = work.support_class.limits.ground_condition.triggers
    trigger = next((t for t in triggers if ground and t.condition == ground.condition), None)
    if ground is None or trigger is None:
        return
    told = [
        Choice(answer, PersonCalled(at=asker.at, by=asker.by, who=trigger.call, answer=answer))
        for answer in ("goes on as it is", "goes on with extra support", "stop and wait")
    ]
    yield Question(
        key="called",
        stage="before",
        ask=f"Call {trigger.call}. What was the answer?",
        hint=trigger.because,
        choices=tuple(told),
        answered=ground.called is not None,
        checks=("ground_condition",),
    )


def _barred_before(work: RoundWork, asker: Asker) -> Question:
    def choice(who: str, when: str) -> Choice:
        touch = BarredBefore(at=asker.at, by=asker.by, before_by=who, before_when=when)
        return Choice(who, touch, when)

    return Question(
        key="barred before",
        stage="before",
        ask="Barred down before bolting: by whom, and when?",
        hint="From supported toward unsupported ground.",
        choices=(
            choice("bolter crew", "this shift"),
            choice("bolter crew", "last shift"),
            choice("another crew", "this shift"),
            choice("nobody", "not barred down"),
        ),
        answered=work.seen.barring.before_by is not None,
        checks=("barring_down",),
    )


def _barred_after(work: RoundWork, asker: Asker) -> Question:
    return Question(
        key="barred after",
        stage="before",
        ask="Barred down again after bolting?",
        hint="Drummy ground between the bolts comes down now.",
        choices=(
            Choice("Yes, again", BarredAfter(at=asker.at, by=asker.by, done=True)),
            Choice("No", BarredAfter(at=asker.at, by=asker.by, done=False)),
        ),
        answered=work.seen.barring.after_bolting is not None,
        checks=("barring_down",),
    )


def _face(work: RoundWork, asker: Asker) -> Question:
    def choice(label: str, *, done: bool) -> Choice:
        return Choice(label, FaceAnswered(at=asker.at, by=asker.by, scaled_and_supported=done))

    return Question(
        key="face",
        stage="before",
        ask="Face scaled, and supported as required?",
        hint="Look from behind the last row.",
        choices=(choice("Yes", done=True), choice("No", done=False)),
        answered=work.seen.face.scaled_and_supported is not None,
        checks=("face_made_safe",),
    )


def _butts(work: RoundWork, asker: Asker) -> Question:
    return Question(
        key="butts",
        stage="before",
        ask="Misfires and butts: looked for?",
        hint="Washed down, every butt seen.",
        choices=(
            Choice("None found", ButtsAnswered(at=asker.at, by=asker.by, answer="none found")),
            Choice("Found", ButtsAnswered(at=asker.at, by=asker.by, answer="found")),
        ),
        answered=work.seen.face.misfires_and_butts is not None,
        checks=("misfires_and_butts",),
    )


def _bolts(work: RoundWork, asker: Asker, batches: tuple[Batch, ...]) -> Question:
    bolts = work.support_class.bolts
    codes = {bolt.code for bolt in bolts}
    labelled = [_batch_choice(batch, asker) for batch in batches if batch.bolt_type in codes]
    told = [_told_choice(bolt, asker) for bolt in bolts]
    other = BoltsNamed.model_validate(
        {
            "at": asker.at,
            "by": asker.by,
            "bolt_type": "other",
            "bolt_length_m": "0",
            "basis": "told by the bolter",
        }
    )
    return Question(
        key="bolts",
        stage="before",
        ask="Which bolts went in?",
        hint="From the pack label; otherwise what the bolter says.",
        choices=(*labelled[:3], *told[:2], Choice("Other", other, "not this class")),
        answered=work.seen.bolter.bolt_type is not None,
        checks=("bolt_type",),
    )


def _told_choice(bolt: BoltType, asker: Asker) -> Choice:
    touch = BoltsNamed(
        at=asker.at,
        by=asker.by,
        bolt_type=bolt.code,
        bolt_length_m=bolt.length_m,
        basis="told by the bolter",
    )
    return Choice(f"{bolt.length_m} m", touch, f"{bolt.code}, as told")


def _batch_choice(batch: Batch, asker: Asker) -> Choice:
    touch = BoltsNamed.model_validate(
        {
            "at": asker.at,
            "by": asker.by,
            "bolt_type": batch.bolt_type or "other",
            "bolt_length_m": batch.length_m or "0",
            "basis": "pack label",
            "batches": (batch.label,),
        }
    )
    known_by = "IN DOUBT" if batch.in_doubt else "pack label"
    return Choice(batch.label, touch, f"{batch.length_m} m, {known_by}")


def _finished(work: RoundWork, asker: Asker) -> Iterator[Question]:
    if all(it.limits.curing is None for it in work.classes):
        return
    lost = again_since_rows_changed(work, _is_finish_known)
    ago = ((0.5, "½ h ago"), (1, "1 h ago"), (4, "4 h ago"), (8, "8 h ago"), (24, "24 h ago"))
    choices = []
    for hours, label in ago:
        finished_at = (asker.at - timedelta(hours=hours)).astimezone(UTC)
        touch = BoltingFinished(at=asker.at, by=asker.by, finished_at=finished_at)
        choices.append(Choice(label, touch, f"{finished_at.astimezone(asker.at.tzinfo):%H:%M}"))
    yield Question(
        key="finished",
        stage="before",
        ask="When was the last bolt in?",
        hint=lost or "Bolts count once they are cured.",
        choices=tuple(choices),
        answered=_is_finish_known(work.seen),
        checks=("curing",),
    )


def _is_finish_known(seen: Round) -> bool:
    return seen.bolter.bolting_finished_at is not None
