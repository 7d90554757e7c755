"""`lastrow peg …`: survey pegs, from which places are taped."""

from typing import Annotated

import typer

from fieldapp.cli.acting import As, named
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.stated import stated


def add(  # noqa: PLR0913 - what a peg is
    ctx: typer.Context,
    heading: Annotated[str, typer.Argument(metavar="HEADING", help="Name of the heading.")],
    name: Annotated[str, typer.Argument(help="As it stands beside the peg.")],
    *,
    at: Annotated[str, typer.Option(metavar="M", help="Chainage, in metres.")],
    beside: Annotated[
        str | None,
        typer.Option(
            metavar="M", help="Along the rock from the crown, facing the face, left negative."
        ),
    ] = None,
    who: As,
    home: Home = None,
) -> int:
    """Enter a survey peg, so that a label can name it and places can be taped from it.

    Example: lastrow peg add "4180 Main" P41 --at 608.25 --beside -1.2 --as "Keeper"
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.headings import heading as heading_of
        from fieldapp.work.pegs import add_peg
        from schemas.bodies.survey_peg import SurveyPeg
        from schemas.short_id import short_id

        place = heading_of(site, heading)
        peg = stated(SurveyPeg, "the peg", heading=place.id, name=name, chainage_m=at, s_m=beside)
        entered = add_peg(site, peg, named(site, who))
    code = short_id("survey_peg", entered.id).readable
    print(f"Peg {name} in {place.body.name} at {peg.chainage_m} m is entered: {code}.")
    return 0


def pegs(ctx: typer.Context, *, home: Home = None) -> int:
    """List every survey peg, each with its short id.

    Example: lastrow peg list
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.cli.table import table
        from fieldapp.work.headings import heading
        from fieldapp.work.pegs import pegs as known_pegs
        from schemas.short_id import short_id

        rows = [
            (
                it.body.name,
                heading(site, it.body.heading).body.name,
                f"{it.body.chainage_m} m",
                short_id("survey_peg", it.id).readable,
            )
            for it in known_pegs(site)
        ]
    if not rows:
        print("No survey peg is entered yet: lastrow peg add.")
        return 0
    print("\n".join(table(("peg", "heading", "chainage", "short id"), rows, (16, 40, 12, 12))))
    return 0
