"""`lastrow board`, `sheet` and `handover`: what the screens show and print, from a terminal."""

from typing import TYPE_CHECKING, Annotated

import typer

from fieldapp.cli.door import Home, door_of
from fieldapp.cli.table import table

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from fieldapp.report.words.lengths import Units
    from fieldapp.work.board import BoardRow

HEAD = (
    "heading",
    "entry",
    "way in, outbye",
    "face",
    "from the line to the face",
    "why",
    "last round",
    "signed / fired",
)
WIDEST = (24, 32, 14, 13, 28, 44, 32, 24)
OUTRANKS = "A barricade or sign in the heading outranks this list."


def board(ctx: typer.Context, *, home: Home = None) -> int:
    """Print the Shift board: how far people may go in each heading, and why no farther.

    Example: lastrow board
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.board import board as rows_of
        from fieldapp.work.board import shift_name
        from fieldapp.work.whole import not_whole

        now, units = site.now(), site.settings.units
        print(f"{site.mine.name}, {shift_name(site, now)}{', DEMO' if site.mine.demo else ''}")
        print()
        rows = rows_of(site, now)
        for line in _beyond(rows):
            print(line)
        for trouble in not_whole(site):
            print(*trouble.sentences(), sep="\n", end="\n\n")
        for line in table(HEAD, [_row(row, units) for row in rows], WIDEST):
            print(line)
        for line in _beside(rows, units):
            print(line)
    print(f"\n{OUTRANKS}")
    return 0


def _beyond(rows: "Iterable[BoardRow]") -> "Iterator[str]":
    """Say above everything who went beyond a last row, until somebody has looked into it."""
    said = [
        f"{row.name}: {it.words}. Nobody has looked into it." for row in rows for it in row.beyond
    ]
    yield from (*said, "") if said else ()


def _beside(rows: "Iterable[BoardRow]", units: "Units") -> "Iterator[str]":
    """Say what closes no heading and must not be missed: failed tests, deviations, batches."""
    from fieldapp.report.words.lengths import in_units

    said = [f"{row.name}, {it}." for row in rows if (it := _restricted(row, units))]
    said += [
        f"Failed test, {row.name}: {in_units(it.words, units)}."
        for row in rows
        for it in row.entry.failed_tests
    ]
    said += [f"{row.name}: {it.title}." for row in rows for it in row.entry.deviations]
    said += [
        f"In doubt, {row.name}: batch {it.batch}, {it.rounds_named}; {it.waits}."
        for row in rows
        for it in row.entry.doubts
    ]
    yield from ("", *said) if said else ()


def _restricted(row: "BoardRow", units: "Units") -> str:
    """Say what restricts the way in: the column beside it tells what lies beyond the line."""
    from fieldapp.report.words.entry import entry_said

    return entry_said(row.entry, units).outbye if row.entry.outbye == "restricted" else ""


def _row(row: "BoardRow", units: "Units") -> tuple[str, ...]:
    from fieldapp.report.words.entry import entry_said
    from fieldapp.report.words.lengths import chainage_words

    said = entry_said(row.entry, units)
    signed, fired = (
        chainage_words(it, units)
        for it in (row.entry.coverage.signed_m, row.entry.coverage.fired_m)
    )
    return (
        row.name,
        said.line,
        said.way_in,
        said.face,
        said.beyond,
        said.why,
        ", ".join(filter(None, (row.last_round, row.detail, row.signed))),
        f"{signed} / {fired}",
    )


def sheet(
    ctx: typer.Context,
    round_name: Annotated[
        str, typer.Argument(metavar="ROUND", help="Its id, or heading and number.")
    ],
    *,
    home: Home = None,
) -> int:
    """Write the round sheet of a recorded round as PDF, and say where it is.

    Example: lastrow sheet "Wrenfall Decline 412"
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.report.printed import write_sheet
        from fieldapp.work.rounds import find_round

        print(write_sheet(site, find_round(site, round_name).id))
    return 0


def handover(
    ctx: typer.Context,
    heading: Annotated[str, typer.Argument(metavar="HEADING", help="Name of the heading.")],
    *,
    home: Home = None,
) -> int:
    """Say the last round of a heading in words for the radio, and write them on one page.

    Example: lastrow handover "Wrenfall Decline"
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.report.handover import handover as said
        from fieldapp.report.printed import sheet_of, write_handover
        from fieldapp.work.headings import heading as heading_of
        from fieldapp.work.rounds import NoSuchRound, last_round

        place = heading_of(site, heading)
        latest = last_round(site, place.id)
        if latest is None:
            raise NoSuchRound(f"the last one of {place.body.name}")
        for line in said(sheet_of(site, latest.id)).lines:
            print(line)
        print(f"\n{write_handover(site, latest.id)}")
    return 0
