"""`lastrow looked-into`: somebody looked into why a person went beyond the last row."""

from typing import Annotated

import typer

from fieldapp.cli.acting import As, signed_in
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.stated import stated


def looked_into(
    ctx: typer.Context,
    round_name: Annotated[
        str, typer.Argument(metavar="ROUND", help="Its id, or heading and number.")
    ],
    *,
    found: Annotated[str, typer.Option(help="What was found.")],
    who: As,
    home: Home = None,
) -> int:
    """State that it was looked into why somebody went beyond the last row of a round.

    Example: lastrow looked-into "4180 Main 88" --found "new rods ordered" --as "Day supervisor"
    """
    from schemas.bodies.looked_into import LookedInto

    stated(
        LookedInto, "what was found", heading="-", round="-", found=found, role="shift supervisor"
    )
    with door_of(ctx).site(home) as site:
        from fieldapp.work.beyond import beyond_named, look_into

        beyond = beyond_named(site, round_name)
        look_into(site, beyond, found, signed_in(site, who))
        print(f"Looked into: {beyond.words}. Found: {found}.")
    print("It opens no heading, and stays with the round.")
    return 0
