"""What the Round screen shows of a round: the question now, the findings, what is left."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from fieldapp.work.questions import (
    Asker,
    Known,
    Question,
    asked_again,
    contradicted,
    next_question,
    questions,
    settled_by,
)
from fieldapp.work.round import RoundWork
from schemas.findings import Assessment, Finding, Verdict

AGAIN = "Too close to its limit to tell: measure again, once, by a better method."


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

    @property
    def is_complete(self) -> bool:
        """Whether everything was answered."""
        return not self.left

    @property
    def unseen(self) -> int:
        """How many findings nobody looked at the ground of."""
        return sum(1 for finding in self.grave if finding.verdict is Verdict.NOT_LOOKED_AT)

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
        asked = questions(work, replace(asker, again=again), known)
        asked = tuple(_once_more(it, findings) if it.key in again else it for it in asked)
    grave = tuple(it for it in findings if it.verdict is not Verdict.ACCEPT)
    return RoundView(
        asked=asked,
        question=_picked(asked, picked) or next_question(asked),
        grave=grave,
        accepted=len(findings) - len(grave),
        left=sum(1 for question in asked if not question.answered),
    )


def question_for(finding: Finding, view: RoundView) -> Question | None:
    """Give the question that settles a finding, when there is one."""
    return settled_by(finding, view.asked)


def _once_more(question: Question, findings: Iterable[Finding]) -> Question:
    if question.answered:
        return question
    return replace(question, hint=contradicted(question, findings) or AGAIN)


def _picked(asked: tuple[Question, ...], key: str | None) -> Question | None:
    return next((question for question in asked if question.key == key), None)
