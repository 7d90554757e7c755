"""`lastrow overbreak`: the surveyed profile of a round that is being looked at, from a list."""

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer

from fieldapp.cli.acting import As, named
from fieldapp.cli.door import Home, door_of
from schemas.trouble import NotAllowed


@dataclass(eq=False)
class NobodyLooks(NotAllowed):
    """There is no round to be surveyed."""

    heading: str

    happened = "No round of {heading} is being looked at on this tablet."
    kept = "Nothing was taken."
    do_next = "Begin it on the Shift board, then give the list again."


def overbreak(
    ctx: typer.Context,
    heading: Annotated[str, typer.Argument(help="Whose round is being looked at.")],
    points: Annotated[
        Path, typer.Argument(metavar="CSV", help="x_m,y_m of the whole round, or row,x_m,y_m.")
    ],
    *,
    who: As,
    in_metres: Annotated[
        bool, typer.Option("--in-metres", help="It is in metres, whatever its size.")
    ] = False,
    home: Home = None,
) -> int:
    """Take the surveyed outline of a round that is being looked at, whole or row by row.

    Example: lastrow overbreak "4155 Main" round-65.csv --as "Day supervisor"
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.report.words.lengths import metres_words
        from fieldapp.work.headings import heading as found
        from fieldapp.work.questions import Asker
        from fieldapp.work.rounds import open_round
        from fieldapp.work.row_survey import take_round_survey

        place, session = found(site, heading), named(site, who)
        known = open_round(site, place.id)
        if known is None:
            raise NobodyLooks(place.body.name)
        asker = Asker(at=site.now(), by=session.person_id)
        work = take_round_survey(site, known.work, points, asker, sure=in_metres)
        print(f"{work.seen.name.capitalize()} of {place.body.name}: the survey is taken.")
        rows = [(f"Row {it.number}", it.profile) for it in work.seen.rows]
        for what, profile in (("The round", work.seen.profile), *rows):
            if profile is not None:
                wide = metres_words(profile.width_m, site.settings.units)
                print(f"{what}: {wide} wide, {len(profile.points)} points.")
    return 0
