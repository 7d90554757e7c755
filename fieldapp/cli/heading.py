"""`lastrow heading …`: entering the headings of the mine, one by one or from a list."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from fieldapp.cli.acting import As, named, signed_in
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.files import content_of
from fieldapp.cli.stated import metres, shift_m, stated
from schemas.trouble import BadInput

if TYPE_CHECKING:
    from collections.abc import Iterator

    from fieldapp.work.rechain import Moves
    from fieldapp.work.site import Session, Site

MAY_ENTER = ("records keeper", "geotechnical engineer")


@dataclass(eq=False)
class NobodyNamed(BadInput):
    """It was left out who does it, and that doesn't follow."""

    needed: str

    happened = "It was not said who does this, and there isn't just one {needed}."
    kept = "Nothing was changed."
    do_next = "Say who: --as PERSON; or enrol one first: lastrow person add."


By = Annotated[
    str | None,
    typer.Option(
        "--as",
        metavar="PERSON",
        help="A records keeper or geotechnical engineer; may be left out if there is but one.",
    ),
]


def add(  # noqa: PLR0913 - what a heading is
    ctx: typer.Context,
    name: Annotated[str, typer.Argument(help="Name of the heading.")],
    *,
    support_class: Annotated[
        str, typer.Option("--class", metavar="CODE", help="Support class put up here.")
    ],
    face: Annotated[str, typer.Option(metavar="M", help="Chainage of the face, in metres.")],
    last_row: Annotated[
        str, typer.Option(metavar="M", help="Chainage of the last supported row, in metres.")
    ],
    level: Annotated[str, typer.Option(help="Level of the mine.")] = "",
    last_round: Annotated[int, typer.Option(help="Number of the last round fired.", min=0)] = 0,
    who: By = None,
    home: Home = None,
) -> int:
    """Enter one heading, by the sign code of the records keeper or the engineer.

    Example: lastrow heading add "4180 Main" --class D1 --face 612.0 --last-row 611.2
    """
    face_m, last_row_m = metres(face, "chainage of the face"), metres(last_row, "last row")
    with door_of(ctx).site(home) as site:
        from fieldapp.work.headings import add_heading
        from schemas.bodies.heading import Heading

        body = stated(
            Heading,
            "the heading",
            name=name,
            level=level,
            support_class=support_class,
            face_m=str(face_m),
            last_row_m=str(last_row_m),
            last_round=last_round,
            supported_before=True,
            demo=site.mine.demo,
        )
        add_heading(site, body, _session(site, who))
    print(f"{name} is entered: last row at {last_row_m} m, face at {face_m} m.")
    return 0


def import_list(
    ctx: typer.Context,
    file: Annotated[Path, typer.Argument(metavar="FILE.csv", help="A list with column names.")],
    *,
    who: By = None,
    home: Home = None,
) -> int:
    """Enter a list of headings: name, level, support_class, face_m, last_row_m; all or none.

    Example: lastrow heading import headings.csv
    """
    raw = content_of(file)
    with door_of(ctx).site(home) as site:
        from fieldapp.work.headings import import_headings

        entered = import_headings(site, raw, _session(site, who))
    for known in entered:
        print(f"{known.body.name} is entered.")
    return 0


def survey(
    ctx: typer.Context,
    name: Annotated[str, typer.Argument(metavar="HEADING", help="Name of the heading.")],
    file: Annotated[Path, typer.Argument(metavar="FILE.csv", help="A list with column names.")],
    *,
    who: By = None,
    home: Home = None,
) -> int:
    """Enter a heading's surveyed line: chainage_m, east_m, north_m, height_m of the floor.

    Example: lastrow heading survey "4180 Main" line.csv
    """
    raw = content_of(file)
    with door_of(ctx).site(home) as site:
        from fieldapp.work.surveying import survey_heading

        known = survey_heading(site, name, raw, _session(site, who))
    count = len(known.body.surveyed)
    print(f"{known.body.name} has a surveyed line of {count} points.")
    return 0


def rechain(
    ctx: typer.Context,
    name: Annotated[str, typer.Argument(metavar="HEADING", help="Name of the heading.")],
    *,
    from_m: Annotated[
        str,
        typer.Option("--from-m", metavar="M", help="From this chainage, as it was until now."),
    ],
    by_m: Annotated[
        str, typer.Option("--by-m", metavar="M", help="Is today so much more, with a minus less.")
    ],
    who: As,
    home: Home = None,
) -> int:
    """Give a heading the chainages of a re-survey, after what moves was told.

    Example: lastrow heading rechain "4180 Main" --from-m 607.60 --by-m 1.4 --as "Engineer"
    """
    since = metres(from_m, "chainage from which others are to be")
    by = shift_m(by_m, "metres by which chainages are others")
    with door_of(ctx).site(home) as site:
        from fieldapp.work.rechain import rechain, what_moves

        moves = what_moves(site, name, since, by, named(site, who))
        for line in _told(moves):
            print(line)
        signed_in(site, who)
        rechain(site, moves)
    print(f"{moves.place.body.name} is re-chained from {since} m inbye.")
    return 0


def _told(moves: "Moves") -> "Iterator[str]":
    """Say what will be where, before anybody signs for it."""
    from fieldapp.assess.words import counted

    before, after, shift = moves.before, moves.after, moves.rechained
    yield f"{moves.place.body.name}: {shift.from_m} m will be {shift.from_m + shift.by_m} m."
    yield f"Entry line: {before.line_m} m, then {after.line_m} m."
    yield f"Face: {before.face_m} m, then {after.face_m} m."
    if (before.state, before.because) != (after.state, after.because):
        yield f"Entry: {before.state}, then {after.state}: {'; '.join(after.because)}."
    moved = ", ".join(counted(number, what) for what, number in moves.moved)
    yield f"Moves: {moved or 'nothing that is recorded'}."


def _session(site: "Site", who: str | None) -> "Session":
    return signed_in(site, who or the_only_one(site))


def the_only_one(site: "Site") -> str:
    """Name the only person who may enter headings.

    Raises
    ------
    NobodyNamed
        There is none, or more than one.
    """
    from fieldapp.work.people import people

    may = [who for who in people(site) if any(role in MAY_ENTER for role in who.body.roles)]
    if len(may) != 1:
        raise NobodyNamed(" or ".join(MAY_ENTER))
    return may[0].id
