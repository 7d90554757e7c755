"""`lastrow rehab …`: what is to be repaired, and each repair from the plan to its verification."""

from decimal import Decimal
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, cast, get_args
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.acting import As, named, signed_in
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.sign_codes import asked
from fieldapp.cli.stated import metres, one_of, stated
from fieldapp.cli.table import table

if TYPE_CHECKING:
    from collections.abc import Iterator

    from fieldapp.work.damage.stating import DamageKnown
    from fieldapp.work.known import Known
    from fieldapp.work.rehab.rehab_list import RehabRow
    from fieldapp.work.site import Site
    from schemas.bodies.rehab import Rehab

HEAD = ("id", "priority", "heading", "place", "what", "state", "due")
WIDEST = (12, 8, 24, 24, 28, 32, 26)

Name = Annotated[
    str,
    typer.Argument(metavar="ID", help="Its short id or whole id, or its damage's, off the label."),
]
Damages = Annotated[
    list[str],
    typer.Argument(metavar="DAMAGE…", help="Ids of the damage, or of a repair that is proposed."),
]
From = Annotated[str | None, typer.Option("--from", metavar="M", help="From where.")]
To = Annotated[str | None, typer.Option(metavar="M", help="To where.")]
Why = Annotated[str, typer.Option(help="Why.")]


def rehabs(
    ctx: typer.Context,
    *,
    verified: Annotated[
        bool, typer.Option("--verified", help="Those that are verified too.")
    ] = False,
    home: Home = None,
) -> int:
    """List what is to be repaired: where nobody may be, then what is overdue.

    Example: lastrow rehab list
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.rehab.rehab_list import rehab_list

        rows = [_row(site, it) for it in rehab_list(site, site.now(), verified=verified)]
    if not rows:
        print("Nothing is to be repaired.")
        return 0
    for line in table(HEAD, rows, WIDEST):
        print(line)
    return 0


def propose(  # noqa: PLR0913 - what a proposal says
    ctx: typer.Context,
    damages: Damages,
    *,
    order: Annotated[str, typer.Option(help="The order of work that you propose.")],
    who: As,
    start: From = None,
    to: To = None,
    home: Home = None,
) -> int:
    """Propose the repair of damage in one heading: a geotechnical engineer decides on it.

    Example: lastrow rehab propose 7K3Q-9XTR-5 --order "Bar down, sheet" --as "Day supervisor"
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.rehab.steps import propose as proposed

        body = _repair_of(site, damages, order, (start, to))
        _say(proposed(site, body, named(site, who)), "is proposed; an engineer decides on it")
    return 0


def plan(  # noqa: PLR0913 - what a plan says
    ctx: typer.Context,
    damages: Damages,
    *,
    order: Annotated[str, typer.Option(help="The order of work, in the engineer's words.")],
    who: As,
    start: From = None,
    to: To = None,
    home: Home = None,
) -> int:
    """Plan the repair of damage in one heading, or one that was proposed, as its engineer.

    Example: lastrow rehab plan 7K3Q-9XTR-5 --order "Bleed the bag, bar down, sheet" --as Engineer
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.rehab.steps import plan as planned

        body = _repair_of(site, damages, order, (start, to))
        _say(planned(site, body, signed_in(site, who)), "is planned")
    return 0


def begin(  # noqa: PLR0913 - what a crew says when it begins
    ctx: typer.Context,
    rehab: Name,
    *,
    barrier_by: Annotated[str, typer.Option(help="Who put up the barrier.")],
    barrier_at: Annotated[str, typer.Option(help="Where it stands, in words.")],
    barrier_m: Annotated[
        str | None, typer.Option(metavar="M", help="Its chainage: entry ends there, in metres.")
    ] = None,
    who: As,
    crew: str = "",
    home: Home = None,
) -> int:
    """Begin a repair behind its barrier: the stretch is barricaded until it is verified.

    Example: lastrow rehab start 2M8D-04VR-Q --barrier-by Crew --barrier-at "chain and sign"
    --barrier-m 585 --as "Bolter"
    """
    from schemas.bodies.rehab import Barricade

    barricade = stated(Barricade, "the barrier", who=barrier_by, where=barrier_at, at_m=barrier_m)
    with door_of(ctx).site(home) as site:
        from fieldapp.work.rehab.steps import start

        begun = start(site, rehab, named(site, who), barricade=barricade, crew=crew)
        _say(begun, "is in hand, and barricaded")
    return 0


def done(  # noqa: PLR0913 - what a crew says of its work
    ctx: typer.Context,
    rehab: Name,
    *,
    outcome: Annotated[str, typer.Option(help="patched or restored.")],
    who: As,
    lap: Annotated[
        int | None, typer.Option(help="Least lap onto sound old mesh, in openings.")
    ] = None,
    bolts: Annotated[int | None, typer.Option(help="Bolts added.")] = None,
    material: Annotated[list[str] | None, typer.Option(help="What else was put in.")] = None,
    part: Annotated[
        tuple[str, str] | None,
        typer.Option(metavar="M M", help="From and to, where not all was done."),
    ] = None,
    photo: Annotated[
        list[Path] | None, typer.Option(metavar="FILE", help="A photo of what was done.")
    ] = None,
    no_photo: Annotated[str, typer.Option(metavar="WHY", help="Why there is none.")] = "",
    older_photo: Annotated[
        str, typer.Option(metavar="WHY", help="Why one dated before the work shows it.")
    ] = "",
    installer: Annotated[
        list[str] | None, typer.Option(metavar="PERSON", help="Who else did it.")
    ] = None,
    home: Home = None,
) -> int:
    """Say that a repair is done, or a part of it: the rest becomes a repair of its own.

    Example: lastrow rehab done 2M8D-04VR-Q --outcome restored --lap 3 --photo a.jpg --as Bolter
    """
    from schemas.bodies.rehab import Outcome

    said = cast("Outcome", one_of(get_args(Outcome), outcome, "outcome"))
    ends = None if part is None else _stretch(part)
    with door_of(ctx).site(home) as site:
        from fieldapp.work.people import person
        from fieldapp.work.photo.photographs import keep_photo
        from fieldapp.work.rehab.revisions import rehab_known
        from fieldapp.work.rehab.steps import Done, finish

        session, before = named(site, who), rehab_known(site, rehab)
        kept = [keep_photo(site, it, session, before.id) for it in photo or ()]
        work = Done(
            said,
            bolts_added=bolts,
            materials=tuple(material or ()),
            lap_openings=lap,
            part=ends,
            after=tuple(it.id for it in kept),
            no_photo_because=no_photo,
            older_photo_because=older_photo,
            installers=tuple(person(site, it).id for it in installer or ()),
        )
        _say(finish(site, before.id, session, work), "is done, and barricaded still")
    print("Somebody who did none of it verifies it: lastrow rehab verify.")
    return 0


def verify(
    ctx: typer.Context,
    rehab: Name,
    *,
    barrier_down: Annotated[
        bool, typer.Option("--barrier-down", help="The barrier has been taken down.")
    ] = False,
    lap: Annotated[
        int | None,
        typer.Option(help="Least lap in openings, as you measured it: where nobody had."),
    ] = None,
    who: As,
    home: Home = None,
) -> int:
    """Verify a repair that others did, signed with your own sign code.

    Example: lastrow rehab verify 2M8D-04VR-Q --barrier-down --as "Geotechnical technician"
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.people import person
        from fieldapp.work.rehab.verified import verify as verified

        code = asked(f"sign code of {person(site, who).body.name}")
        session = named(site, who)
        known = verified(site, rehab, session, code, barrier_down=barrier_down, lap_openings=lap)
        _say(known, "is verified")
    return 0


def refuse(ctx: typer.Context, rehab: Name, *, reason: Why, who: As, home: Home = None) -> int:
    """Refuse a repair that is said to be done: it stays barricaded.

    Example: lastrow rehab refuse 2M8D-04VR-Q --reason "a plate is loose" --as "Day supervisor"
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.rehab.verified import refuse as refused

        known = refused(site, rehab, signed_in(site, who), because=reason)
        _say(known, "is refused, and barricaded still")
    return 0


def reopen(ctx: typer.Context, rehab: Name, *, reason: Why, who: As, home: Home = None) -> int:
    """State that a verified repair does not hold: nobody goes there.

    Example: lastrow rehab reopen 2M8D-04VR-Q --reason "mesh hangs again" --as "Bolter, crew A"
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.rehab.verified import reopen as reopened

        _say(reopened(site, rehab, named(site, who), because=reason), "is open again")
    return 0


def _repair_of(
    site: "Site", names: list[str], order: str, ends: tuple[str | None, str | None]
) -> "Rehab":
    """Give a repair of damage; where no ends are given it reaches as far as that."""
    from fieldapp.work.rehab.steps import plan_of

    first, *further = (known for name in names for known in _damages_called(site, name))
    body = plan_of(first, order, further)
    begins_m, ends_m = (None if it is None else metres(it, "chainage") for it in ends)
    return stated(
        type(body),
        "the repair",
        **body.model_dump(mode="json", exclude={"from_m", "to_m"}),
        from_m=f"{body.from_m if begins_m is None else begins_m}",
        to_m=f"{body.to_m if ends_m is None else ends_m}",
    )


def _damages_called(site: "Site", name: str) -> "Iterator[DamageKnown]":
    """Yield the damage of an id, or what the repair of that id repairs."""
    from fieldapp.work.damage.stating import NoSuchDamage, damage_known
    from fieldapp.work.rehab.revisions import rehab_known
    from fieldapp.work.rehab.troubles import NoSuchRehab

    try:
        yield damage_known(site, name, site.now())
    except NoSuchDamage as unknown:
        try:
            rehab = rehab_known(site, name)
        except NoSuchRehab:
            raise unknown from None
        for it in rehab.body.damages:
            yield damage_known(site, it, site.now())


def _say(known: "Known[Rehab]", what: str) -> None:
    from fieldapp.work.called import called
    from fieldapp.work.rehab.rehab_list import worked_on

    from_m, to_m = worked_on(known.body)
    print(f"Repair {called(known.id)} of {from_m} to {to_m} m {what}.")


def _stretch(part: tuple[str, str]) -> tuple[Decimal, Decimal]:
    return metres(part[0], "chainage"), metres(part[1], "chainage")


def _row(site: "Site", row: "RehabRow") -> tuple[str, ...]:
    from fieldapp.report.words.damage import due_words, span_of, standing_words
    from fieldapp.work.called import called

    ranked = row.ranked
    kinds = dict.fromkeys(it.newest.kind for it in row.damages)
    return (
        called(row.id),
        ranked.code if ranked else "P?",
        row.heading,
        span_of(row, site.settings.units),
        ", ".join(kinds),
        standing_words(row),
        due_words(ranked, ZoneInfo(site.settings.zone)) if ranked and row.is_open else "",
    )
