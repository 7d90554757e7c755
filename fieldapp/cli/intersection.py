"""`lastrow intersection …`: junctions, and their cables from the drilling to the plates."""

from typing import TYPE_CHECKING, Annotated
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.acting import As, named, signed_in_with
from fieldapp.cli.bolt_test import day
from fieldapp.cli.door import Door, Home, door_of
from fieldapp.cli.stated import metres, stated
from fieldapp.cli.table import table

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from fieldapp.work.known import Known
    from fieldapp.work.site import Site
    from schemas.bodies.intersection import CableStep, Intersection

HEAD = ("id", "heading", "place", "span", "class", "cables", "entry")
WIDEST = (12, 30, 24, 12, 12, 24, 60)

Name = Annotated[str, typer.Argument(metavar="ID", help="Its id, or the name of its heading.")]
Count = Annotated[int, typer.Option(help="How many in all by now.")]
When = Annotated[
    str | None, typer.Option(metavar="TIME", help="When the last was; now where none is given.")
]


def add(  # noqa: PLR0913 - what an intersection is
    ctx: typer.Context,
    heading: Annotated[str, typer.Argument(metavar="HEADING", help="Name of the heading.")],
    *,
    start: Annotated[str, typer.Option("--from", metavar="M", help="Where it opens.")],
    to: Annotated[str, typer.Option(metavar="M", help="Where that ends inbye.")],
    corner: Annotated[
        list[str],
        typer.Option(metavar="X:Y", help="Metres inbye of there, and right of the centre line."),
    ],
    support_class: Annotated[str, typer.Option("--class", help="Class of its own pattern.")],
    cable: Annotated[str, typer.Option(metavar="CODE", help="Its long bolt or cable.")],
    cables: Annotated[int, typer.Option(help="How many are demanded.")],
    by: Annotated[str, typer.Option(help="How its corners were read.")] = "assumed",
    note: str = "",
    who: As,
    home: Home = None,
) -> int:
    """State an intersection: entry beneath is restricted until its cables are plated.

    Example: lastrow intersection add "4180 Junction" --from 50 --to 58 --corner 0:-4
    --corner 8:-4 --corner 8:4 --corner 0:4 --class W3 --cable LB50 --cables 12 --as Engineer
    """
    from schemas.bodies.intersection import Intersection

    with door_of(ctx).site(home) as site:
        from fieldapp.work.headings import heading as heading_of
        from fieldapp.work.intersection.stating import add_intersection

        place = heading_of(site, heading)
        body = stated(
            Intersection,
            "the intersection",
            heading=place.id,
            from_m=f"{metres(start, 'chainage')}",
            to_m=f"{metres(to, 'chainage')}",
            corners=[corner_of(it) for it in corner],
            corners_method=by,
            support_class=support_class,
            cable=cable,
            cables=cables,
            step="planned",
            at=site.now().isoformat(),
            note=note,
        )
        known = add_intersection(site, body, named(site, who))
        print(f"The intersection in {place.body.name} is stated: span {_span(known.body)}.")
        say(site, known)
    return 0


def drilled(
    ctx: typer.Context, name: Name, *, count: Count, at: When = None, who: As, home: Home = None
) -> int:
    """State how many cables of an intersection are drilled.

    Example: lastrow intersection drilled 7K3Q-9XTR-5 --count 12 --as "Bolter, crew A"
    """
    return _put_in(door_of(ctx), name, "drilled", (count, at), who, home)


def grouted(
    ctx: typer.Context, name: Name, *, count: Count, at: When = None, who: As, home: Home = None
) -> int:
    """State how many cables are grouted: from the last one on they cure.

    Example: lastrow intersection grouted 7K3Q-9XTR-5 --count 12 --at 2031-05-06T14:30 --as Bolter
    """
    return _put_in(door_of(ctx), name, "grouted", (count, at), who, home)


def plated(
    ctx: typer.Context, name: Name, *, count: Count, at: When = None, who: As, home: Home = None
) -> int:
    """Sign that the cables are plated, as a supervisor or engineer who put in none of them.

    Example: lastrow intersection plated 7K3Q-9XTR-5 --count 12 --as "Day supervisor"
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.intersection.steps import plate

        session, code = signed_in_with(site, who)
        say(site, plate(site, name, session, code, count, _time(site, at)))
    return 0


def intersections(ctx: typer.Context, *, home: Home = None) -> int:
    """List every intersection, its span, and what its cables wait for.

    Example: lastrow intersection list
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.intersection.steps import intersections as known

        rows = [_row(site, it) for it in known(site)]
    if not rows:
        print("No intersection is stated yet: lastrow intersection add.")
        return 0
    print("\n".join(table(HEAD, rows, WIDEST)))
    return 0


def _put_in(
    door: Door,
    name: str,
    step: "CableStep",
    done: tuple[int, str | None],
    who: str,
    home: "Path | None",
) -> int:
    with door.site(home) as site:
        from fieldapp.work.intersection.steps import put_in

        count, at = done
        say(site, put_in(site, name, named(site, who), step, count, _time(site, at)))
    return 0


def corner_of(typed: str) -> dict[str, str]:
    """Read a corner as it is typed: "8:-4"."""
    x, _, y = typed.partition(":")
    return {"x_m": x.strip(), "y_m": y.strip()}


def _time(site: "Site", typed: str | None) -> "datetime":
    from datetime import datetime

    said = day(typed, ZoneInfo(site.settings.zone))
    return site.now() if said is None else datetime.fromisoformat(said)


def say(site: "Site", known: "Known[Intersection]") -> None:
    """Say how far its cables are, and what that means for entry."""
    from fieldapp.work.called import called

    body = known.body
    print(f"{called(known.id)}: {body.count} of {body.cables} cables {body.step}.")
    print(f"Entry {_entry(site, known)}.")


def _entry(site: "Site", known: "Known[Intersection]") -> str:
    from fieldapp.work.intersection.steps import waits_for

    waits = waits_for(site, known)
    return f"is restricted: cables {waits}" if waits else "is not restricted by its cables"


def _span(body: "Intersection") -> str:
    from fieldapp.assess.intersections.span import span_m, why_no_outline

    return why_no_outline(body.corners) or f"{span_m(body.corners):.2f} m"


def _row(site: "Site", known: "Known[Intersection]") -> tuple[str, ...]:
    from fieldapp.work.called import called
    from fieldapp.work.headings import heading

    body = known.body
    return (
        called(known.id),
        heading(site, body.heading).body.name,
        f"{body.from_m} to {body.to_m} m",
        _span(body),
        body.support_class,
        f"{body.count} of {body.cables} {body.step}",
        _entry(site, known),
    )
