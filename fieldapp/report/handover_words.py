"""A round handed over in words that can be read out over the radio.

Short sentences, no signs and no abbreviations: what is wrong with its place, the worst first,
what to do, what nobody looked at, and where entry ends.
"""

import re
from dataclasses import dataclass

from fieldapp.report.round_sheet.blocks import RoundSheet
from fieldapp.report.words.findings import (
    NO_BREAK,
    counted,
    limit,
    measured,
    places,
    sentence,
    told,
    when,
    with_role,
)
from fieldapp.report.words.lengths import in_units
from schemas.findings import Finding, Verdict

CAUTIONS = (
    "Stay under supported ground. Bar down first.",
    "A barricade or sign in the heading outranks this page.",
)
"""Fixed lines: the same on every page."""

_SPOKEN = (
    (re.compile(rf"(?<![\d.])1{NO_BREAK}ft\b"), "1 foot"),
    (re.compile(rf"(?<=\d){NO_BREAK}ft\b"), " feet"),
    (re.compile(rf"(?<![\d.])1{NO_BREAK}in\b"), "1 inch"),
    (re.compile(rf"(?<=\d){NO_BREAK}in\b"), " inches"),
    (re.compile(r"\bper m²"), "per square metre"),
    (re.compile(r"\bN·m\b"), "newton metres"),
    (re.compile(rf"(?<=\d)[ {NO_BREAK}]m\b"), " metres"),
    (re.compile(rf"(?<=\d)[ {NO_BREAK}]mm\b"), " millimetres"),
    (re.compile(rf"(?<=\d)[ {NO_BREAK}]MPa\b"), " megapascals"),
    (re.compile(rf"(?<=\d)[ {NO_BREAK}]kN\b"), " kilonewtons"),
    (re.compile(rf"(?<=\d)[ {NO_BREAK}]t\b"), " tonnes"),
    (re.compile(r"(?<=\d)°"), " degrees"),
    (re.compile(r" ± "), " plus or minus "),
)


@dataclass(frozen=True)
class Handover:
    """What is handed over, each part in sentences."""

    title: str
    entry: tuple[str, ...]
    decided: tuple[str, ...]
    wrong: tuple[tuple[Verdict, str], ...]
    """What was looked at and is not accepted, with its verdict."""
    jobs: tuple[str, ...]
    not_seen: tuple[str, ...]
    cautions: tuple[str, ...] = CAUTIONS

    @property
    def lines(self) -> tuple[str, ...]:
        """All of it, line by line, in the order in which it is read out."""
        jobs = (f"{number}. {job}" for number, job in enumerate(self.jobs, start=1))
        return (
            self.title,
            *self.entry,
            *self.decided,
            *(words for _, words in self.wrong),
            *((f"To do: {counted(len(self.jobs), 'job')}.", *jobs) if self.jobs else ()),
            *self.not_seen,
            *self.cautions,
        )


def handover(sheet: RoundSheet) -> Handover:
    """Put a round into words."""
    seen = sheet.bundle.round
    demo = "Worked example, not real ground. " if sheet.demo else ""
    return Handover(
        title=f"{demo}{sheet.bundle.heading.name}, {seen.name}.",
        entry=tuple(_entry(sheet)),
        decided=tuple(_decided(sheet)),
        wrong=tuple(
            (finding.verdict, spoken(_wrong(finding)))
            for finding in sheet.assessment.findings
            if told(finding) and finding.verdict is not Verdict.NOT_LOOKED_AT
        ),
        jobs=tuple(spoken(sentence(job)) for job in sheet.assessment.fix_list),
        not_seen=tuple(_not_seen(sheet)),
    )


def spoken(words: str) -> str:
    """Write units and signs out in full."""
    return _in_full(words).replace(NO_BREAK, " ")


def _in_full(words: str) -> str:
    for sign, said in _SPOKEN:
        words = sign.sub(said, words)
    return words


def _entry(sheet: RoundSheet) -> list[str]:
    if sheet.entry_line_words is None:
        return ["The entry line is not known. Ask the Shift board."]
    said = sheet.entry_said
    if said is None:
        return [f"Entry to {_in_full(sheet.entry_line_words)}, nobody beyond."]
    parts = (f"entry {said.line}", said.rest, said.outbye)
    return [sentence(_in_full(part)) for part in parts if part]


def _decided(sheet: RoundSheet) -> list[str]:
    deviating = (it.words for it in sheet.under_deviation)
    doubted = (it.words for it in sheet.doubts)
    return [_signed(sheet), *map(sentence, (*deviating, *doubted)), *_failed_tests(sheet)]


def _failed_tests(sheet: RoundSheet) -> list[str]:
    """Tell of support of the heading that failed a test and is not recorded as damage."""
    failed = sheet.entry.failed_tests if sheet.entry else ()
    return [sentence(spoken(in_units(it.words, sheet.units))) for it in failed]


def _signed(sheet: RoundSheet) -> str:
    if sheet.sign_off is None or sheet.signed_at is None:
        return "Not signed. Nobody has decided on this round."
    role = sheet.sign_off.role
    signer = with_role(sheet.signed_by, role) if sheet.signed_by else role
    decided, at = sheet.sign_off.decision.capitalize(), when(sheet.signed_at, sheet.zone)
    return f"{decided}. Signed by {signer}, {at}."


def _wrong(finding: Finding) -> str:
    value = measured(finding, doubt=False)
    bound = limit(finding)
    figures = ", ".join(part for part in (value, bound and f"should be {bound}") if part)
    said = f"{finding.verdict}: {finding.title[:1].lower()}{finding.title[1:]}"
    where = places(finding, 2)
    parts = [f"{said}, {figures}" if figures else said, where]
    if finding.deviation is not None:
        parts.append(f"under a deviation, {finding.deviation}")
    return " ".join(sentence(part) for part in parts if part)


def _not_seen(sheet: RoundSheet) -> list[str]:
    hidden = f"No look can show {', '.join(sheet.assessment.not_seen)}."
    by_place: dict[str, list[str]] = {}
    for finding in sheet.assessment.findings:
        if finding.verdict is Verdict.NOT_LOOKED_AT:
            by_place.setdefault(places(finding, 2), []).append(finding.title.lower())
    if not by_place:
        return ["Everything that the standard asks for was looked at.", hidden]
    said = [
        f"Not looked at, {where}: {', '.join(titles)}."
        if where
        else f"Not looked at: {', '.join(titles)}."
        for where, titles in by_place.items()
    ]
    return [*(spoken(words) for words in said), hidden]
