"""From a finding to the question that settles it."""

from collections.abc import Iterable

from fieldapp.work.questions.question import Question
from schemas.findings import Finding, Verdict


def settles(question: Question, finding: Finding) -> bool:
    """Whether answering a question may change a finding: same check, and same row if it has."""
    rows = {place.row for place in finding.places if place.row is not None}
    here = question.row is None or not rows or question.row in rows
    return finding.check in question.checks and here


def settled_by(finding: Finding, asked: tuple[Question, ...]) -> Question | None:
    """Give the question to ask for a finding: an unanswered one first."""
    fitting = [question for question in asked if settles(question, finding)]
    return min(fitting, key=lambda question: question.answered, default=None)


def asked_again(findings: Iterable[Finding], asked: tuple[Question, ...]) -> frozenset[str]:
    """Give the keys of the readings to take once more, by a better method."""
    straddling = [it for it in findings if it.verdict is Verdict.MEASURE_AGAIN]
    return frozenset(
        question.key
        for finding in straddling
        for question in asked
        if question.digits is not None and settles(question, finding)
    )
