"""`lastrow report …`: what was recorded, for the file, the meeting and the mine plan.

From this tablet's records, or with --office from an office's database: the same reports.
"""

import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Annotated
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.door import Door, Home, door_of
from fieldapp.cli.exits import STOPPED
from fieldapp.cli.files import write_into
from fieldapp.cli.progress import show_progress
from fieldapp.cli.stated import one_of
from schemas.trouble import BadInput, NotAllowed

if TYPE_CHECKING:
    from fieldapp.report.pens.pdf import Paper
    from fieldapp.report.reported import Wanted
    from fieldapp.work.reporting.facts import AnyFacts
    from fieldapp.work.reporting.then import Reported

PAPERS = ("A4", "Letter")
MONTH = re.compile(r"[0-9]{4}-(0[1-9]|1[0-2])")
LIKE_A_MONTH = re.compile(r"[0-9]{4}-[0-9]{1,2}")
Out = Annotated[
    Path | None,
    typer.Option(
        "--out", metavar="FILE", help="A .pdf, .xlsx or .json file; a heading's or round's .dxf."
    ),
]
PaperName = Annotated[str, typer.Option("--paper", metavar="SIZE", help="A4 or Letter.")]
Office = Annotated[
    str | None,
    typer.Option("--office", metavar="URL", help="An office's database, in place of a tablet."),
]
Share = Annotated[
    Path | None,
    typer.Option("--share", metavar="FOLDER", help="Beside --office: where the photos are."),
]


@dataclass(eq=False)
class NoReportFile(BadInput):
    """A file was named whose ending is no form of that report."""

    name: str
    forms: str

    happened = "This report can't be written to {name}."
    kept = "Nothing was written."
    do_next = "Name a file that ends in one of these: {forms}."


@dataclass(eq=False)
class ReportStopped(NotAllowed):
    """Somebody stopped a report before it was written."""

    happened = "The report was stopped."
    kept = "Nothing was written."
    do_next = "Type the command once more when there is time for it."
    exit_code = STOPPED


@dataclass(eq=False)
class MonthToCome(BadInput):
    """A month was named that has not begun."""

    month: str

    happened = "{month} has not begun by this machine's clock."
    kept = "Nothing was written."
    do_next = "Name this month or one that is past, and look whether the clock is right."


@dataclass(eq=False)
class NoLoadInForm(BadInput):
    """What each bolt carries was asked for in a form that has no place for it."""

    form: str

    happened = (
        "What each bolt carries stands on a page or in a spreadsheet, not in a file .{form}."
    )
    kept = "Nothing was written."
    do_next = "Name a file that ends in .pdf or .xlsx, or leave out --load."


@dataclass(frozen=True)
class Source:
    """Where the command looks, and where it writes if nothing else is said."""

    on: "Reported"
    folder: Path


@contextmanager
def source(
    door: Door, home: Path | None, office: str | None, share: Path | None
) -> Iterator[Source]:
    """Open what is reported from: this tablet's records, or an office's database.

    Raises
    ------
    ReportStopped
        Somebody stopped it meanwhile.
    """
    try:
        with _source(door, home, office, share) as found:
            yield found
    except KeyboardInterrupt as stopped:
        raise ReportStopped from stopped


@contextmanager
def _source(
    door: Door, home: Path | None, office: str | None, share: Path | None
) -> Iterator[Source]:
    if office is None:
        from fieldapp.report.printed import SHEETS
        from fieldapp.work.reporting.then import of_tablet

        with door.site(home) as site:
            yield Source(of_tablet(site), site.folder / SHEETS)
        return
    from fieldapp.start import SETTINGS_FILE, read_settings, utc_now
    from fieldapp.store.office import open_office
    from fieldapp.work.reporting.then import of_office

    settings = read_settings(door.home_folder(home) / SETTINGS_FILE)
    now = (door.now or utc_now)()
    with open_office(office, filled=True) as opened:
        yield Source(of_office(opened, settings, now, share), Path())


def heading(  # noqa: PLR0913 - what a report is asked for
    ctx: typer.Context,
    name: Annotated[str, typer.Argument(metavar="HEADING", help="Name of the heading.")],
    *,
    out: Out = None,
    paper: PaperName = "A4",
    office: Office = None,
    share: Share = None,
    home: Home = None,
) -> int:
    """Write a heading's history: rounds, coverage, events, damage, repairs, the drive.

    Example: lastrow report heading "4180 Main" --out history.pdf
    """
    wanted = _wanted("heading", out, paper)
    with source(door_of(ctx), home, office, share) as found:
        from fieldapp.work.reporting.heading import heading_report

        facts = heading_report(found.on, name, show_progress)
        _write(found, facts, out, wanted)
    return 0


def month(  # noqa: PLR0913 - what a report is asked for
    ctx: typer.Context,
    words: Annotated[
        list[str] | None,
        typer.Argument(metavar="[YYYY-MM] [HEADING…]", help="This month, every heading if none."),
    ] = None,
    *,
    out: Out = None,
    paper: PaperName = "A4",
    office: Office = None,
    share: Share = None,
    home: Home = None,
) -> int:
    """Write a month: coverage, entry, rounds, damage, what is overdue, and the work.

    Example: lastrow report month 2031-05 --out may.pdf
    """
    wanted = _wanted("month", out, paper)
    with source(door_of(ctx), home, office, share) as found:
        from fieldapp.work.reporting.month import month_report
        from fieldapp.work.reporting.months import last_second_of, month_of

        zone = ZoneInfo(found.on.sight.settings.zone)
        first, *others = words or [""]
        named = bool(MONTH.fullmatch(first))
        chosen = first if named else month_of(found.on.at, zone)
        names = others if named else [it for it in (first, *others) if it]
        _refuse_no_month(found.on, names)
        if chosen > month_of(found.on.at, zone):
            raise MonthToCome(chosen)
        then = found.on.as_at(last_second_of(chosen, zone))
        facts = month_report(then, chosen, names, show_progress)
        _write(found, facts, out, wanted)
    return 0


def rehab(  # noqa: PLR0913 - what a report is asked for
    ctx: typer.Context,
    name: Annotated[
        str | None, typer.Argument(metavar="[HEADING]", help="Every heading if none is named.")
    ] = None,
    *,
    out: Out = None,
    paper: PaperName = "A4",
    office: Office = None,
    share: Share = None,
    home: Home = None,
) -> int:
    """Write the rehab list: what is done first and why, order of work, photos, who verified.

    Example: lastrow report rehab "4180 Main" --out rehab.pdf
    """
    wanted = _wanted("rehab", out, paper)
    with source(door_of(ctx), home, office, share) as found:
        from fieldapp.work.reporting.rehab import rehab_report

        facts = rehab_report(found.on, name, show_progress)
        _write(found, facts, out, wanted)
    return 0


def round_(  # noqa: PLR0913 - what a report is asked for
    ctx: typer.Context,
    name: Annotated[str, typer.Argument(metavar="ROUND", help="Its id, or heading and number.")],
    *,
    out: Out = None,
    paper: PaperName = "A4",
    load: Annotated[
        bool,
        typer.Option("--load", help="For engineers, PDF or spreadsheet: what each bolt carries."),
    ] = False,
    office: Office = None,
    home: Home = None,
) -> int:
    """Write the sheet of a recorded round: findings with reasons, the drive, who signed.

    Example: lastrow report round "Wrenfall Decline 412" --paper Letter --out round-412.pdf
    """
    wanted = replace(_wanted("round", out, paper), load=load)
    if load and wanted.form not in ("pdf", "xlsx"):
        raise NoLoadInForm(wanted.form)
    with source(door_of(ctx), home, office, None) as found:
        from fieldapp.report.reported import round_file

        made = round_file(found.on, name, wanted, show_progress)
        path = out or found.folder / made.name
        print(f"Written: {write_into(path.parent, path.name, made.content)}")
        print(f"Sheet code {made.code}")
    return 0


def _refuse_no_month(on: "Reported", names: Sequence[str]) -> None:
    """Refuse "2031-13", which is no month, unless a heading is called so."""
    from fieldapp.work.headings import headings
    from fieldapp.work.walk.plan import NoSuchMonth

    called = {it.body.name for it in headings(on.sight)}
    for name in names:
        if LIKE_A_MONTH.fullmatch(name) and name not in called:
            raise NoSuchMonth(name)


def paper_of(name: str) -> "Paper":
    """Give the paper that is meant."""
    from fieldapp.report.pens.pdf import PAPERS as KNOWN

    return KNOWN[one_of(PAPERS, name, "paper")]


def _wanted(kind: str, out: Path | None, paper: str) -> "Wanted":
    """Give the form and paper that are meant, refused before anything is gathered."""
    from fieldapp.report.reported import Wanted, forms_of

    forms = forms_of(kind)
    form = "pdf" if out is None else out.suffix.lower().removeprefix(".")
    if form not in forms:
        raise NoReportFile(str(out), ", ".join(f".{it}" for it in forms))
    return Wanted(form, paper_of(paper))


def _write(found: Source, facts: "AnyFacts", out: Path | None, wanted: "Wanted") -> None:
    from fieldapp.report.reported import code_of, file_name, report_file

    content = report_file(found.on, facts, wanted, show_progress)
    path = out or found.folder / file_name(facts, wanted.form)
    print(f"Written: {write_into(path.parent, path.name, content)}")
    print(f"Report code {code_of(facts).readable}")
