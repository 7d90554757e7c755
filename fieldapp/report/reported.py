"""From the ledger to a file: a report in the form that is asked for, from wherever it is asked."""

import re
from dataclasses import dataclass, replace
from hashlib import sha256
from typing import Final, Literal, get_args

from assets.translate import _
from fieldapp.report.load_told import bolt_loads
from fieldapp.report.pages.heading_pages import heading_pages
from fieldapp.report.pages.laying import Laying
from fieldapp.report.pages.month_pages import month_pages
from fieldapp.report.pages.rehab_pages import rehab_pages
from fieldapp.report.pens.pdf import A4, Paper
from fieldapp.report.plan_drawing import plan_drawing
from fieldapp.report.printed import round_reported, sheet_name
from fieldapp.report.report_code import ReportCode, of_number, report_code
from fieldapp.report.round_sheet.blocks import RoundSheet
from fieldapp.report.round_sheet.whole import round_sheet
from fieldapp.report.spreadsheet import spreadsheet
from fieldapp.report.words.findings import month_words
from fieldapp.work.reporting.facts import (
    AnyFacts,
    HeadingFacts,
    MonthFacts,
    RoundFacts,
    facts_bytes,
    facts_sha256,
)
from fieldapp.work.reporting.heading import round_report
from fieldapp.work.reporting.then import Reported
from schemas.check_character import number_of
from sync.outcome import Watcher, nobody

Form = Literal["pdf", "xlsx", "json", "dxf"]
EVERY_HEADING: Final = "00000000"
MONTH_BITS: Final = 20
"""Room for year and month as one number."""
FORMS: Final[tuple[Form, ...]] = get_args(Form)


@dataclass(frozen=True)
class Wanted:
    """In which form a report is written."""

    form: Form = "pdf"
    paper: Paper = A4
    load: bool = False
    """Of a round: with what each bolt carries, for engineers; a page, or a sheet of figures."""


def code_of(facts: AnyFacts) -> ReportCode:
    """Give the code by which a report is known."""
    known_by = facts_sha256(facts)
    if isinstance(facts, HeadingFacts):
        return report_code("H", heading_digits(facts.heading.id), facts.as_at, known_by)
    if isinstance(facts, MonthFacts):
        some = () if facts.every_heading else tuple(it.heading.id for it in facts.headings)
        return report_code("M", month_digits(facts.month, some), facts.as_at, known_by)
    of = heading_digits(facts.heading) if facts.heading else EVERY_HEADING
    return report_code("R", of, facts.as_at, known_by)


def title_of(facts: AnyFacts) -> str:
    """Say which report it is."""
    if isinstance(facts, HeadingFacts):
        return _("Heading report · {name}").format(name=facts.heading.name)
    if isinstance(facts, MonthFacts):
        return _("Month report · {month}").format(month=month_words(facts.month))
    return _("Rehab list · {name}").format(name=facts.heading_name or _("every heading"))


def forms_of(kind: str) -> tuple[Form, ...]:
    """Give the forms in which a report can be written: a drawing is of what lies in one place."""
    return FORMS if kind in ("heading", "round") else tuple(it for it in FORMS if it != "dxf")


def file_name(facts: AnyFacts, form: Form) -> str:
    """Name the file of a report; what no file may be called becomes a stroke."""
    if isinstance(facts, HeadingFacts):
        words = f"{facts.heading.name}-history"
    elif isinstance(facts, MonthFacts):
        words = f"month-{facts.month}"
    else:
        words = f"rehab-{facts.heading_name or 'list'}"
    plain = re.sub(r"[^\w-]+", "-", words).strip("-")
    return f"{plain}.{form}"


def report_file(on: Reported, facts: AnyFacts, wanted: Wanted, watch: Watcher = nobody) -> bytes:
    """Write a report.

    Raises
    ------
    Stopped
        The watcher stopped it: nothing was written.
    """
    if wanted.form == "json":
        return facts_bytes(facts) + b"\n"
    if wanted.form == "xlsx":
        return spreadsheet(facts, code_of(facts).readable, watch)
    if wanted.form == "dxf" and isinstance(facts, HeadingFacts):
        return plan_drawing(facts, code_of(facts).readable, watch)
    units = on.sight.settings.units
    laying = Laying(facts, code_of(facts), units, on.picture_of, wanted.paper, watch)
    if isinstance(facts, HeadingFacts):
        return heading_pages(laying, facts, title_of(facts))
    if isinstance(facts, MonthFacts):
        return month_pages(laying, facts, title_of(facts))
    return rehab_pages(laying, facts, title_of(facts))


@dataclass(frozen=True)
class RoundFile:
    """What is written of a round, how its file is called, and the code of its sheet."""

    content: bytes
    name: str
    code: str


def round_file(on: Reported, name: str, wanted: Wanted, watch: Watcher = nobody) -> RoundFile:
    """Write a round: its sheet, or the same facts in another form.

    Raises
    ------
    NoSuchRound
        Nothing of that name is recorded.
    Stopped
        The watcher stopped it.
    """
    sheet = replace(round_reported(on, name), paper=wanted.paper, load=wanted.load)
    code = sheet.code.readable
    if wanted.form == "pdf":
        content = round_sheet(sheet)
    else:
        content = _round_told(round_report(on, sheet.round_id), sheet, wanted.form, watch)
    return RoundFile(content, f"{sheet_name(sheet)}.{wanted.form}", code)


def _round_told(facts: RoundFacts, sheet: RoundSheet, form: Form, watch: Watcher) -> bytes:
    code = sheet.code.readable
    if form == "xlsx":
        return spreadsheet(facts, code, watch, bolt_loads(sheet.bundle) if sheet.load else ())
    if form == "dxf":
        return plan_drawing(facts, code, watch)
    return facts_bytes(facts) + b"\n"


def month_digits(month: str, some: tuple[str, ...]) -> str:
    """Give a month, and which headings it is of where it is not of all, as in a code."""
    number = int(month.replace("-", ""))
    which = sha256("\n".join(sorted(some)).encode()).digest()
    chosen = int.from_bytes(which[:2], "big") if some else 0
    return of_number(chosen << MONTH_BITS | number)


def month_in(of: str) -> str:
    """Give the month that stands in a code."""
    number = number_of(of) % (1 << MONTH_BITS)
    return f"{number // 100:04}-{number % 100:02}"


def heading_digits(heading_id: str) -> str:
    """Give the end of a heading's id as it stands in a code."""
    return of_number(int(heading_id.replace("-", ""), 16))
