"""The findings of a round as a readable table, the worst first."""

from collections.abc import Iterator
from datetime import UTC

from fieldapp.cli.table import table
from fieldapp.report.words.findings import (
    dated,
    limit,
    measured,
    places,
    sentence,
    verdict_words,
    when,
)
from fieldapp.report.words.lengths import line_words
from schemas.bundle import Bundle
from schemas.findings import Assessment, Finding, Verdict

MARKS = {
    Verdict.ACCEPT: "✓",
    Verdict.FIX_THIS_SHIFT: "△",
    Verdict.MEASURE_AGAIN: "◇",
    Verdict.NOT_LOOKED_AT: "◌",
    Verdict.REWORK: "▲",
    Verdict.NO_ENTRY: "■",
}
"""The shapes of the screen, as letters: the word always stands beside them."""

HEAD = ("verdict", "check", "measured", "limit", "where", "because")
WIDEST = (26, 24, 24, 26, 44, 28)


def findings_table(bundle: Bundle, assessment: Assessment) -> str:
    """Write everything that an assessment says."""
    return "\n".join(_lines(bundle, assessment))


def _lines(bundle: Bundle, assessment: Assessment) -> Iterator[str]:
    seen, standard = bundle.round, bundle.standard
    demo = " (worked example)" if standard.demo else ""
    yield f"{bundle.heading.name}, {seen.name}: {assessment.headline}"
    yield (
        f"Support class {assessment.support_class} of {standard.name}{demo}, "
        f"judged as at {when(assessment.as_at, UTC)}."
    )
    yield ""
    yield from table(HEAD, [_row(finding) for finding in assessment.findings], WIDEST)
    yield ""
    for number, job in enumerate(assessment.fix_list, start=1):
        yield f"{number}. {sentence(dated(job, UTC))}"
    if assessment.rows_complete_to_m is not None:
        line = line_words(assessment.rows_complete_to_m, "metres")
        yield f"Rows are complete, from the joint, to {line}."
    if assessment.cured_at is not None:
        yield f"All of it has cured at {when(assessment.cured_at, UTC)}."
    yield f"Not seen: {', '.join(assessment.not_seen)}."
    yield ""


def _row(finding: Finding) -> tuple[str, ...]:
    return (
        f"{MARKS[finding.verdict]} {verdict_words(finding)}",
        finding.title,
        measured(finding, engineer=True),
        limit(finding, engineer=True),
        places(finding, at_most=2),
        finding.because,
    )
