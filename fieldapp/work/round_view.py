"""What the Round screen shows of a round: the question now, the findings, what is left."""

from dataclasses import dataclass

from fieldapp.work.questions import (
    Asker,
    Known,
    Question,
    asked_again,
    next_question,
    questions,
    settled_by,
)
from fieldapp.work.round import RoundWork
from schemas.findings import Assessment, Finding, Verdict

STAGES = ("before", "old rows", "rows", "drawn", "mesh", "shotcrete", "torque", "last")


@dataclass(frozen=True)
class RoundView:
    """One moment of a round on the screen."""

    asked: tuple[Question, ...]
    question: Question | None
    """The one asked now; None when every one is answered."""
    grave: tuple[Finding, ...]
    """Findings that are not accepted, the worst first."""
    accepted: int
    left: int
    """Questions still open."""
    stages: tuple[tuple[str, bool], ...]
    """The stages of this round in order, and whether each is done."""

    @property
    def is_complete(self) -> bool:
        """Whether everything was answered."""
        return self.question is None

    @property
    def to_fix(self) -> int:
        """How many findings ask for a job."""
        return sum(1 for finding in self.grave if finding.fix)


def round_view(
    work: RoundWork,
    asker: Asker,
    known: Known,
    assessment: Assessment | None,
    *,
    picked: str | None = None,
) -> RoundView:
    """Give what to show; `picked` is the key of a question that a person went to."""
    findings = assessment.findings if assessment else ()
    asked = questions(work, asker, known)
    again = asked_again(findings, asked)
    if again:
        asked = questions(work, Asker(asker.at, asker.by, again), known)
    grave = tuple(it for it in findings if it.verdict is not Verdict.ACCEPT)
    return RoundView(
        asked=asked,
        question=_picked(asked, picked) or next_question(asked),
        grave=grave,
        accepted=len(findings) - len(grave),
        left=sum(1 for question in asked if not question.answered),
        stages=_stages(asked),
    )


def question_for(finding: Finding, view: RoundView) -> Question | None:
    """Give the question that settles a finding, when there is one."""
    return settled_by(finding, view.asked)


def measured_words(finding: Finding) -> str:
    """Give the measured value as it is shown: with its unit, or that nobody looked."""
    if finding.measured is None:
        return str(finding.verdict)
    return f"{finding.measured} {finding.unit}".strip()


def _picked(asked: tuple[Question, ...], key: str | None) -> Question | None:
    return next((question for question in asked if question.key == key), None)


def _stages(asked: tuple[Question, ...]) -> tuple[tuple[str, bool], ...]:
    present = [stage for stage in STAGES if any(it.stage == stage for it in asked)]
    return tuple(
        (stage, all(it.answered for it in asked if it.stage == stage)) for stage in present
    )
