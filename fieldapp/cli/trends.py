"""`lastrow trends`: how what is followed went over the months, and what each point stands on."""

from typing import TYPE_CHECKING, Annotated
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.door import Home, door_of
from fieldapp.cli.stated import one_of
from fieldapp.cli.table import NO_BREAK, table

if TYPE_CHECKING:
    from collections.abc import Iterator

    from fieldapp.work.trends import Evidence, Series

MOST_EVIDENCE = 5
"""So much of what a point stands on is named in a line."""


def trends(
    ctx: typer.Context,
    what: Annotated[
        str | None, typer.Argument(metavar="WHAT", help="What is followed; left out: all of it.")
    ] = None,
    *,
    by: Annotated[
        str,
        typer.Option(
            help="mine, heading, support class, crew, method, heading and method, batch, section."
        ),
    ] = "mine",
    heading: Annotated[
        str | None, typer.Option(metavar="HEADING", help="Only of this heading.")
    ] = None,
    home: Home = None,
) -> int:
    """Show how something went over the months: by heading, class, crew or method, never by name.

    Example: lastrow trends last-row-to-face --by heading
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.trends import GROUPINGS, MEASURES, measure
        from fieldapp.work.trends import trends as trends_of

        wanted = one_of(GROUPINGS, by, "grouping")
        group = next(it for it in GROUPINGS if it == wanted)
        zone = ZoneInfo(site.settings.zone)
        for it in MEASURES if what is None else (measure(what),):
            print(f"{it.title} ({it.key}), {it.unit}")
            found = trends_of(site, it, group, heading)
            lines = _courses(found) if what is None else _points(found, zone)
            for line in lines:
                print(f"  {line}")
    print("\nA trend is no verdict, and lets nobody into a heading.")
    return 0


def _courses(found: "tuple[Series, ...]") -> "Iterator[str]":
    from fieldapp.report.words.trend import (
        compared_words,
        course_words,
        in_all_words,
        limits_words,
        middle_words,
        stands_words,
    )

    if not found:
        yield "nothing is recorded of it"
    for series in found:
        said = (
            stands_words(series),
            in_all_words(series),
            middle_words(series),
            course_words(series),
            compared_words(series),
            limits_words(series),
        )
        group = f"{series.group}: " if series.group else ""
        yield f"{group}{'; '.join(filter(None, said))}".replace(NO_BREAK, " ")


def _points(found: "tuple[Series, ...]", zone: ZoneInfo) -> "Iterator[str]":
    from fieldapp.report.words.trend import at_words, value_words

    for line, series in zip(_courses(found), found, strict=False):
        yield line
        rows = [
            (
                at_words(series.measure, point, zone),
                value_words(series.measure, point),
                "ask why" if number in series.outside else "",
                _evidence(point.evidence),
            )
            for number, point in enumerate(series.points)
        ]
        yield from table(("when", "value", "", "stands on"), rows, (18, 40, 7, 60))
    if not found:
        yield "nothing is recorded of it"


def _evidence(evidence: "tuple[Evidence, ...]") -> str:
    named = [it.words for it in evidence[:MOST_EVIDENCE]]
    more = len(evidence) - len(named)
    return "; ".join([*named, *([f"and {more} more"] if more else [])])
