"""`lastrow event`: what happened to the ground. It withdraws entry at once."""

from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, cast, get_args
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.acting import As, named
from fieldapp.cli.door import Door, Home, door_of
from fieldapp.cli.stated import metres, one_of

if TYPE_CHECKING:
    from schemas.bodies.event import Stripped

HeadingName = Annotated[str, typer.Argument(metavar="HEADING", help="Name of the heading.")]


def event(  # noqa: PLR0913 - what an event says
    ctx: typer.Context,
    heading: HeadingName,
    what: Annotated[str, typer.Argument(help="fired, seismic, stripped, fall of ground, …")],
    *,
    at: Annotated[str, typer.Option(metavar="M", help="Chainage, in metres.")],
    who: As,
    fired: Annotated[
        str | None, typer.Option(metavar="M", help="Metres advanced, of a firing.")
    ] = None,
    to: Annotated[
        str | None, typer.Option(metavar="M", help="Where it ends inbye, of a stripping.")
    ] = None,
    zone: Annotated[
        list[str] | None, typer.Option(help="What was stripped: left wall, back, …")
    ] = None,
    depth: Annotated[
        str | None, typer.Option(metavar="M", help="How far it was taken back, of a stripping.")
    ] = None,
    home: Home = None,
) -> int:
    """State an event: entry near it is withdrawn until the time is over and somebody inspects.

    Example: lastrow event "4180 Main" fired --at 612.0 --fired 3.6 --as "Day supervisor"
    """
    from schemas.bodies.event import Happened

    happened = cast("Happened", one_of(get_args(Happened), what, "event"))
    chainage_m = metres(at, "chainage")
    if happened == "stripped":
        return _strip(door_of(ctx), heading, chainage_m, _stripped(to, zone, depth), who, home)
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


def _stripped(to: str | None, zones: list[str] | None, depth: str | None) -> "Stripped":
    from schemas.bodies.event import Stripped
    from schemas.standard import Zone

    named_zones = (one_of(get_args(Zone), it, "zone") for it in zones or ())
    return Stripped(
        to_m=metres(to or "", "end of what was stripped (--to)"),
        zones=tuple(cast("Zone", it) for it in named_zones),
        depth_m=None if depth is None else metres(depth, "depth"),
    )


def _strip(
    door: Door, heading: str, from_m: Decimal, stripped: "Stripped", who: str, home: Path | None
) -> int:
    with door.site(home) as site:
        from fieldapp.assess.entry.bare_ground import stripped_words
        from fieldapp.work.headings import heading as heading_of
        from fieldapp.work.stripping import report_stripped

        place = heading_of(site, heading)
        report_stripped(site, place.id, from_m, stripped, named(site, who))
    print(f"{place.body.name}: {stripped_words(from_m, stripped)}.")
    print("Nobody goes there until new support over it is accepted, as a round over old support.")
    return 0
