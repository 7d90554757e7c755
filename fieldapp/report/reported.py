"""From the ledger to a file: a report in the form that is asked for, from wherever it is asked."""

import re
from dataclasses import dataclass
from typing import Final, Literal, get_args

from assets.translate import _
from fieldapp.report.lengths import Units
from fieldapp.report.pages.heading_pages import heading_pages
from fieldapp.report.pages.laying import Laying
from fieldapp.report.pdf_pen import A4, Paper
from fieldapp.report.report_code import ReportCode, of_number, report_code
from fieldapp.work.reporting.facts import AnyFacts, facts_bytes, facts_sha256
from fieldapp.work.reporting.then import Reported
from sync.outcome import Watcher, nobody

Form = Literal["pdf", "json"]
FORMS: Final[tuple[Form, ...]] = get_args(Form)


@dataclass(frozen=True)
class Wanted:
    """In which form a report is written."""

    form: Form = "pdf"
    paper: Paper = A4
    units: Units = "metres"


def code_of(facts: AnyFacts) -> ReportCode:
    """Give the code by which a report is known."""
    return report_code("H", heading_digits(facts.heading.id), facts.as_at, facts_sha256(facts))


def title_of(facts: AnyFacts) -> str:
    """Say which report it is."""
    return _("Heading report · {name}").format(name=facts.heading.name)


def forms_of(_facts: AnyFacts) -> tuple[Form, ...]:
    """Give the forms in which a report can be written."""
    return FORMS


def file_name(facts: AnyFacts, form: Form) -> str:
    """Name the file of a report; what no file may be called becomes a stroke."""
    words = re.sub(r"[^\w-]+", "-", f"{facts.heading.name}-history")
    return f"{words.strip('-')}.{form}"


def report_file(on: Reported, facts: AnyFacts, wanted: Wanted, watch: Watcher = nobody) -> bytes:
    """Write a report.

    Raises
    ------
    Stopped
        The watcher stopped it: nothing was written.
    """
    if wanted.form == "json":
        return facts_bytes(facts) + b"\n"
    laying = Laying(facts, code_of(facts), wanted.units, on.picture_of, wanted.paper, watch)
    return heading_pages(laying, facts, title_of(facts))


def heading_digits(heading_id: str) -> str:
    """Give the end of a heading's id as it stands in a code."""
    return of_number(int(heading_id.replace("-", ""), 16))
