"""What a round asks, in the order in which it is walked."""

from collections.abc import Iterable, Iterator

from fieldapp.work.questions.after import last, shotcrete, torque
from fieldapp.work.questions.before import before
from fieldapp.work.questions.haste import haste
from fieldapp.work.questions.mesh import mesh
from fieldapp.work.questions.question import (
    Asker,
    Choice,
    Digits,
    Installer,
    Known,
    OnPhoto,
    Question,
)
from fieldapp.work.questions.rows import drawn, old_rows, rows, rows_planned
from fieldapp.work.questions.settling import asked_again, contradicted, settled_by
from fieldapp.work.round import RoundWork

__all__ = [
    "Asker",
    "Choice",
    "Digits",
    "Installer",
    "Known",
    "OnPhoto",
    "Question",
    "asked_again",
    "contradicted",
    "in_turn",
    "next_question",
    "questions",
    "rows_planned",
    "settled_by",
]


def questions(work: RoundWork, asker: Asker, known: Known) -> tuple[Question, ...]:
    """Give every question of this round, answered or not, in the order of walking."""
    return tuple(in_turn(work, asker, known))


def in_turn(work: RoundWork, asker: Asker, known: Known) -> Iterator[Question]:
    """Yield them one by one: whoever looks for the next one need not make those after it."""
    yield from before(work, asker, known)
    yield from old_rows(work, asker)
    yield from haste(work, asker)
    yield from rows(work, asker)
    yield from drawn(work, asker)
    yield from mesh(work, asker)
    yield from shotcrete(work, asker)
    yield from torque(work, asker)
    yield from last(work, asker)


def next_question(asked: Iterable[Question]) -> Question | None:
    """Give the first question that nobody has answered; None when all are."""
    return next((question for question in asked if not question.answered), None)
