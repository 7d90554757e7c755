"""`lastrow intersection …`: what was seen of its bolts and cables, and that it was opened."""

from typing import TYPE_CHECKING, Annotated

import typer

from fieldapp.cli.acting import As, named
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.intersection import Name, say
from fieldapp.cli.stated import metres, one_of, stated

if TYPE_CHECKING:
    from fieldapp.work.known import Known
    from fieldapp.work.site import Site
    from schemas.bodies.intersection import Intersection, PlanBolt
    from schemas.findings import Finding

HOW = "How its places were read."


def bolts(  # noqa: PLR0913 - what is said of bolts
    ctx: typer.Context,
    name: Name,
    *,
    bolt: Annotated[
        list[str] | None,
        typer.Option(metavar="X:Y[:PLATE]", help="Its place; seated, loose or missing."),
    ] = None,
    as_standard: Annotated[
        bool, typer.Option("--as-standard", help="One in each demanded position, assumed.")
    ] = False,
    plates: Annotated[
        str | None, typer.Option(help="Of those as standard: seated, loose or missing.")
    ] = None,
    by: Annotated[str, typer.Option(help=HOW)] = "tape",
    who: As,
    home: Home = None,
) -> int:
    """State the bolts that were seen beneath an intersection, in place of those before.

    Example: lastrow intersection bolts 7K3Q-9XTR-5 --as-standard --plates seated --as Bolter
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.intersection.seen import as_demanded, record_support
        from fieldapp.work.intersection.steps import heads_of

        found = [_bolt(it, by) for it in bolt or ()]
        if as_standard:
            plate = None if plates is None else one_of(_PLATES, plates, "plate")
            demanded = as_demanded(site, heads_of(site, name)[0])
            found += [it.model_copy(update={"plate": plate}) for it in demanded]
        known = record_support(site, name, named(site, who), bolts=found)
        print(f"{len(found)} bolts are stated.")
        _say(site, known)
    return 0


def cables(  # noqa: PLR0913 - what is said of cables
    ctx: typer.Context,
    name: Name,
    *,
    cable: Annotated[list[str], typer.Option(metavar="X:Y", help="Where each stands.")],
    length: Annotated[str | None, typer.Option(metavar="M", help="Of all of them.")] = None,
    tension: Annotated[str | None, typer.Option(metavar="KN", help="Of all of them.")] = None,
    batch: Annotated[str, typer.Option(help="Of their grout.")] = "",
    by: Annotated[str, typer.Option(help=HOW)] = "tape",
    who: As,
    home: Home = None,
) -> int:
    """State the cables that were seen: where, how long, how tight, with which grout.

    Example: lastrow intersection cables 7K3Q-9XTR-5 --cable 2:-1 --cable 2:1 --length 6.0
    --tension 50 --batch G-118 --as "Bolter, crew A"
    """
    from schemas.bodies.intersection import PlanCable

    told = {"length_m": length, "tension_kn": tension, "batch": batch}
    with door_of(ctx).site(home) as site:
        from fieldapp.work.intersection.seen import record_support

        found = [stated(PlanCable, "the cable", **_place(it), method=by, **told) for it in cable]
        known = record_support(site, name, named(site, who), cables=found)
        print(f"{len(found)} cables are stated.")
        _say(site, known)
    return 0


def crown(
    ctx: typer.Context,
    name: Name,
    *,
    height: Annotated[str, typer.Option(metavar="M", help="Of its middle over its edge.")],
    who: As,
    home: Home = None,
) -> int:
    """State how much higher its back is in the middle: until then it is judged flat.

    Example: lastrow intersection crown 7K3Q-9XTR-5 --height 0.6 --as "Day supervisor"
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.intersection.seen import record_support

        _say(site, record_support(site, name, named(site, who), crown_m=metres(height, "height")))
    return 0


def opened(ctx: typer.Context, name: Name, *, who: As, home: Home = None) -> int:
    """State that the breakaway was taken now: a blast that withdraws entry near it.

    Example: lastrow intersection opened 7K3Q-9XTR-5 --as "Day supervisor"
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.intersection.seen import open_up
        from fieldapp.work.intersection.steps import heads_of

        blast = open_up(site, name, named(site, who))
        print(f"The breakaway at {blast.body.chainage_m} m is stated.")
        print(f"Entry is withdrawn {blast.body.radius_m} m around it until somebody inspects.")
        _say(site, heads_of(site, name)[0])
    return 0


def show(ctx: typer.Context, name: Name, *, home: Home = None) -> int:
    """Show what the standard of its day says of an intersection, or of all of a heading.

    Example: lastrow intersection show "4180 Junction"
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.intersection.steps import called_so
        from schemas.numbers import said_m

        found = called_so(site, name)
        for known in found:
            print(f"Junction at {said_m(known.body.from_m)} m:")
            say(site, known)
            _say(site, known)
        if not found:
            print(f"No intersection is stated in {name}.")
    return 0


def _bolt(typed: str, by: str) -> "PlanBolt":
    from schemas.bodies.intersection import PlanBolt

    place, _, plate = typed.rpartition(":") if typed.count(":") > 1 else (typed, "", "")
    return stated(PlanBolt, "the bolt", **_place(place), method=by, plate=plate or None)


def _place(typed: str) -> dict[str, str]:
    x, _, y = typed.partition(":")
    return {"x_m": x.strip(), "y_m": y.strip()}


def _say(site: "Site", known: "Known[Intersection]") -> None:
    from fieldapp.work.intersection.seen import findings, today

    found, both = findings(site, known), today(site, known)
    if not found:
        print("The standard of its day says nothing of it but its cables.")
    for it in found:
        print(_line(it))
    if both is not None:
        print(f"In force now, {both[1].words}; it is judged by {both[0].standard}.")


def _line(it: "Finding") -> str:
    unit = f" {it.unit}" if it.unit else ""
    doubt = f" ± {it.uncertainty}" if it.uncertainty else ""
    value = "" if it.measured is None else f" {it.measured}{doubt}{unit}"
    limit = "" if it.limit is None else f", {it.limit}{unit}"
    where = "; ".join(place.words for place in it.places[:3])
    return f"{it.verdict}: {it.title}{value}{limit} ({it.because}); {where}".rstrip("; ")


_PLATES = ("seated", "loose", "missing")
