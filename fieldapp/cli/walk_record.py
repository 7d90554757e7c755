"""`lastrow walk record` and `list`: keeping a walk from a file, and what was walked."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.acting import As, named
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.files import content_of
from fieldapp.cli.table import table

if TYPE_CHECKING:
    from fieldapp.work.known import Known
    from fieldapp.work.site import Site
    from schemas.bodies.walk import Walk

HEAD = ("walked", "heading", "by", "sections", "new", "not reached")
WIDEST = (24, 30, 30, 8, 4, 12)


def record(
    ctx: typer.Context,
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="A walk as JSON: schemas/published/walk.json.")
    ],
    *,
    who: As,
    home: Home = None,
) -> int:
    """Keep a condition walk from a file; its heading is named, or given by its id.

    Example: lastrow walk record walk.json --as "Geotechnical technician"
    """
    from schemas.bodies.walk import Walk
    from schemas.reading import read_model

    read = read_model(content_of(file), Walk, source=file.name)
    with door_of(ctx).site(home) as site:
        from fieldapp.work.headings import heading
        from fieldapp.work.people import name_of
        from fieldapp.work.walk.end import record_told
        from fieldapp.work.walk.walks import on_the_same_day

        session = named(site, who)
        place = heading(site, read.heading)
        body = read.model_copy(update={"heading": place.id})
        others = on_the_same_day(site, body, session.person_id)
        kept = record_told(site, body, session)
        print(f"The walk of {place.body.name} is kept: {_said(kept.body)}.")
        for other in others:
            name = name_of(site, other.author)
            print(f"{name} looked at {other.sections} of these sections that day too: both stand.")
        print(f"Walk {kept.id}")
    return 0


def walks(
    ctx: typer.Context,
    heading: Annotated[
        str | None, typer.Argument(metavar="HEADING", help="Only of this heading.")
    ] = None,
    *,
    home: Home = None,
) -> int:
    """List condition walks, the newest first.

    Example: lastrow walk list "4180 Main"
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.headings import heading as heading_of
        from fieldapp.work.headings import headings
        from fieldapp.work.walk.walks import walks as walks_of

        places = headings(site) if heading is None else (heading_of(site, heading),)
        names = {it.id: it.body.name for it in places}
        known = [it for place in names for it in walks_of(site, place)]
        known.sort(key=lambda it: (it.body.began_at, it.id), reverse=True)
        rows = [_row(site, it, names[it.body.heading]) for it in known]
    if not rows:
        print("No walk is recorded.")
        return 0
    for line in table(HEAD, rows, WIDEST):
        print(line)
    return 0


def _row(site: "Site", known: "Known[Walk]", name: str) -> tuple[str, ...]:
    from fieldapp.report.words.findings import when
    from fieldapp.work.people import name_of

    sections = known.body.sections
    return (
        when(known.body.began_at, ZoneInfo(site.settings.zone)),
        name,
        name_of(site, known.entry.author),
        str(len(sections)),
        str(sum(it.answer == "something new" for it in sections)),
        str(sum(it.answer == "not reached" for it in sections)),
    )


def _said(walk: "Walk") -> str:
    answers = [it.answer for it in walk.sections]
    new, not_reached = answers.count("something new"), answers.count("not reached")
    sections = "1 section" if len(answers) == 1 else f"{len(answers)} sections"
    by_half = sum(bool(it.unanswered) for it in walk.sections)
    begun = f", {by_half} begun only" if by_half else ""
    return f"{sections}, {new} with something new, {not_reached} not reached{begun}"
