"""`lastrow intersection …`: what is right of one that was stated otherwise, and cables refused."""

from typing import Annotated

import typer

from fieldapp.cli.acting import As, named, signed_in_with
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.intersection import Name, corner_of, say
from fieldapp.cli.stated import metres, stated


def correct(  # noqa: PLR0913 - what an intersection is
    ctx: typer.Context,
    name: Name,
    *,
    because: Annotated[str, typer.Option(help="Why it was stated otherwise.")],
    start: Annotated[
        str | None, typer.Option("--from", metavar="M", help="It opens here.")
    ] = None,
    to: Annotated[str | None, typer.Option(metavar="M", help="Where that ends inbye.")] = None,
    corner: Annotated[
        list[str] | None, typer.Option(metavar="X:Y", help="All of them, as for add.")
    ] = None,
    support_class: Annotated[str | None, typer.Option("--class", help="Its class.")] = None,
    cable: Annotated[str | None, typer.Option(metavar="CODE", help="Its long bolt.")] = None,
    cables: Annotated[int | None, typer.Option(help="How many are demanded.")] = None,
    by: Annotated[str | None, typer.Option(help="How its corners were read.")] = None,
    who: As,
    home: Home = None,
) -> int:
    """Put an intersection right, as a supervisor or engineer: its plates are signed once more.

    Example: lastrow intersection correct 7K3Q-9XTR-5 --cables 6 --because "typed wrong" --as Day
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.intersection.stating import correct_intersection
        from fieldapp.work.intersection.steps import heads_of, least_far
        from schemas.bodies.intersection import Intersection

        session, _code = signed_in_with(site, who)
        said = {
            "from_m": None if start is None else f"{metres(start, 'chainage')}",
            "to_m": None if to is None else f"{metres(to, 'chainage')}",
            "corners": [corner_of(it) for it in corner] if corner else None,
            "corners_method": by,
            "support_class": support_class,
            "cable": cable,
            "cables": cables,
            "corrected_because": because,
        }
        before = least_far(heads_of(site, name)).body.model_dump(mode="json", exclude_none=True)
        right = before | {field: it for field, it in said.items() if it is not None}
        body = stated(Intersection, "the intersection", **right)
        say(site, correct_intersection(site, name, body, session))
    return 0


def refused(
    ctx: typer.Context,
    name: Name,
    *,
    because: Annotated[str, typer.Option(help="What is wrong with them.")],
    who: As,
    home: Home = None,
) -> int:
    """State why the cables don't count as they are: entry is restricted until they are signed.

    Example: lastrow intersection refused 7K3Q-9XTR-5 --because "a plate is loose" --as Day
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.intersection.steps import refuse

        say(site, refuse(site, name, named(site, who), because))
    return 0
