"""`lastrow heading …`: entering the headings of the mine, one by one or from a list."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from fieldapp.cli.acting import signed_in
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.files import content_of
from fieldapp.cli.stated import metres, stated
from schemas.trouble import BadInput

if TYPE_CHECKING:
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
