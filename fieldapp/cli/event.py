"""`lastrow event`: what happened to the ground. It withdraws entry at once."""

from typing import Annotated, cast, get_args
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.acting import As, named
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.stated import metres, one_of

HeadingName = Annotated[str, typer.Argument(metavar="HEADING", help="Name of the heading.")]


def event(  # noqa: PLR0913 - what an event says
    ctx: typer.Context,
    heading: HeadingName,
    what: Annotated[str, typer.Argument(help="fired, seismic, fall of ground, …")],
    *,
    at: Annotated[str, typer.Option(metavar="M", help="Chainage, in metres.")],
    who: As,
    fired: Annotated[
        str | None, typer.Option(metavar="M", help="Metres advanced, of a firing.")
    ] = None,
    home: Home = None,
) -> int:
    """State an event: entry near it is withdrawn until the time is over and somebody inspects.

    Example: lastrow event "4180 Main" fired --at 612.0 --fired 3.6 --as "Day supervisor"
    """
    from schemas.standard import EventWhat

    happened = cast("EventWhat", one_of(get_args(EventWhat), what, "event"))
    chainage_m = metres(at, "chainage")
    fired_m = None if fired is None else metres(fired, "advance")
    with door_of(ctx).site(home) as site:
        from fieldapp.assess.times import time_from
        from fieldapp.work.events import report_event
        from fieldapp.work.headings import heading as heading_of

        place = heading_of(site, heading)
        stated = report_event(
            site, place.id, happened, chainage_m, named(site, who), fired_m=fired_m
        )
        now = site.now().astimezone(ZoneInfo(site.settings.zone))
    print(f"{happened.capitalize()} in {place.body.name} at {chainage_m} m.")
    body = stated.body
    until = time_from(body.excluded_until, now)
    print(f"Entry is withdrawn {body.radius_m} m around it until {until} and an inspection.")
    return 0
