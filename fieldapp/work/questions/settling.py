"""From a finding to the question that settles it."""

from collections.abc import Iterable

from fieldapp.work.questions.question import Question
from schemas.findings import Finding, Place, Verdict

NOT_AT_ALL, SAME_CHECK, SAME_ROW, SAME_PLACE = range(4)
"""How closely a question is about a finding."""


def settled_by(finding: Finding, asked: tuple[Question, ...]) -> Question | None:
    """Give the question to ask for a finding.

    What nobody looked at is asked first where it is unanswered; what was seen is asked again
    where it was seen.
    """
    unseen = finding.verdict is Verdict.NOT_LOOKED_AT

    def rank(question: Question) -> tuple[int, int]:
        answered, close = int(question.answered), closeness(question, finding)
        return (answered, -close) if unseen else (-close, answered)

    return min((it for it in asked if closeness(it, finding)), key=rank, default=None)


def asked_again(findings: Iterable[Finding], asked: tuple[Question, ...]) -> frozenset[str]:
    """Give the keys of the readings to take once more, by a better method."""
    straddling = [it for it in findings if it.verdict is Verdict.MEASURE_AGAIN]
    return frozenset(key for finding in straddling for key in _readings_of(finding, asked))


def contradicted(question: Question, findings: Iterable[Finding]) -> str | None:
    """Say what an answer contradicts, where that is why it is asked for once more."""
    places = (
        place
        for finding in findings
        if finding.verdict is Verdict.MEASURE_AGAIN and finding.measured is None
        for place in finding.places
        if _is_about(question, finding) and _near(question, place)
    )
    first = next(places, None)
    return None if first is None else f"Can't be: {first.words}. Look again."


def closeness(question: Question, finding: Finding) -> int:
    """Give how closely a question is about a finding; 0 where it settles nothing of it."""
    if not _is_about(question, finding):
        return NOT_AT_ALL
    return max((_near(question, place) for place in finding.places), default=SAME_CHECK)


def _is_about(question: Question, finding: Finding) -> bool:
    return finding.check in question.checks


def _near(question: Question, place: Place) -> int:
    if question.where is not None and place.words.endswith(question.where):
        return SAME_PLACE
    if question.where is not None and place.words.startswith("sheet"):
        return NOT_AT_ALL  # a lap of two sheets is read where they were placed
    if question.row is None or place.row is None:
        return SAME_CHECK
    if question.row != place.row:
        return NOT_AT_ALL
    same = question.position is not None and question.position == place.position
    return SAME_PLACE if same else SAME_ROW


def _readings_of(finding: Finding, asked: tuple[Question, ...]) -> list[str]:
    """Give the questions that read what straddles: those nearest to it."""
    reading = [it for it in asked if it.digits is not None and it.checks[:1] == (finding.check,)]
    nearest = max((closeness(it, finding) for it in reading), default=NOT_AT_ALL)
    return [it.key for it in reading if nearest and closeness(it, finding) == nearest]
