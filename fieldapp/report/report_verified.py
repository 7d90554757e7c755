"""Whether the records here come to what a printed report says, as at the time that it names."""

from collections.abc import Sequence
from dataclasses import dataclass

from fieldapp.report.report_code import KINDS, ReportCode, parse_report_code
from fieldapp.report.reported import (
    EVERY_HEADING,
    code_of,
    heading_digits,
    month_digits,
    month_in,
)
from fieldapp.work.headings import heading, headings
from fieldapp.work.reporting.facts import AnyFacts
from fieldapp.work.reporting.heading import heading_report
from fieldapp.work.reporting.month import month_report
from fieldapp.work.reporting.rehab import rehab_report
from fieldapp.work.reporting.then import Reported, of_tablet
from fieldapp.work.site import Site
from schemas.trouble import BadInput


@dataclass(eq=False)
class ReportUnknown(BadInput):
    """A report is of something that is not known here."""

    code: str
    kind: str
    mine: str
    happened = "The report {code} is of no {kind} of {mine}."
    kept = "Nothing was changed."
    do_next = "Ask where it was printed; don't rely on it meanwhile."


@dataclass(eq=False)
class SomeHeadings(BadInput):
    """A month's report is of several headings, and they were not named, or others were."""

    code: str
    happened = "The report {code} is of several headings of a month, and not of those named here."
    kept = "Nothing was changed."
    do_next = 'Name those that its first page names: lastrow verify CODE "4180 Main" "4155 Main".'


@dataclass(frozen=True)
class ReportVerified:
    """What the records here come to, as at the time of a printed report."""

    code: ReportCode
    facts: AnyFacts
    fits: bool
    """Whether that is what the report says."""


def report_verified(site: Site, text: str, names: Sequence[str] = ()) -> ReportVerified:
    """Gather a report's facts again by its code, as it was scanned or typed.

    A code can't say of which headings a month is, where it is of several: `names` do.

    Raises
    ------
    SheetCodeUnread
        It is no code of a report.
    ReportUnknown
        It is of something that is not known here.
    SomeHeadings
        It is of several headings of a month, and of other ones than those named.
    NoSuchHeading
        Nothing of a name is known.
    """
    code = parse_report_code(text)
    facts = _again(of_tablet(site).as_at(code.at), code, names)
    return ReportVerified(code, facts, code_of(facts) == code)


def _again(on: Reported, code: ReportCode, names: Sequence[str]) -> AnyFacts:
    if code.kind == "R" and code.of == EVERY_HEADING:
        return rehab_report(on)
    if code.kind == "M":
        return _month_again(on, code, names)
    of_one = [it.id for it in headings(on.sight) if heading_digits(it.id) == code.of]
    if not of_one:
        raise ReportUnknown(code.readable, KINDS[code.kind], on.sight.mine.name)
    return (heading_report if code.kind == "H" else rehab_report)(on, of_one[0])


def _month_again(on: Reported, code: ReportCode, names: Sequence[str]) -> AnyFacts:
    """Gather a month of every heading, of one, or of those that are named."""
    month = month_in(code.of)
    named = {heading(on.sight, it).id for it in names}
    some = ((), tuple(named), *((it.id,) for it in headings(on.sight)))
    for ids in some:
        if month_digits(month, ids) == code.of:
            return month_report(on, month, ids)
    raise SomeHeadings(code.readable)
