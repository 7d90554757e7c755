"""`lastrow damage …`: what was found on support that stands, how soon it is repaired, and why."""

from typing import TYPE_CHECKING, Annotated, Any, get_args
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.acting import As, named, signed_in
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.stated import metres, one_of, stated
from fieldapp.cli.table import table

if TYPE_CHECKING:
    from collections.abc import Iterator

    from fieldapp.assess.damage import Ranked
    from fieldapp.work.damage.stating import DamageKnown
    from fieldapp.work.site import Site

HEAD = ("id", "priority", "heading", "place", "what", "entry beneath", "due")
WIDEST = (12, 8, 24, 44, 24, 24, 26)

Read = Annotated[str | None, typer.Option(metavar="N")]


def add(  # noqa: PLR0913 - what somebody sees of damage
    ctx: typer.Context,
    heading: Annotated[str, typer.Argument(metavar="HEADING", help="Name of the heading.")],
    kind: Annotated[str, typer.Argument(help="torn mesh, bagged mesh, plate gone, …")],
    *,
    at: Annotated[str, typer.Option(metavar="M", help="Chainage, in metres.")],
    zone: Annotated[str, typer.Option(help="back, left shoulder, right wall, floor, …")],
    who: As,
    to: Annotated[str | None, typer.Option(metavar="M", help="Where it ends.")] = None,
    across: Annotated[
        str | None, typer.Option("--s", metavar="M", help="From the crown, left negative.")
    ] = None,
    severity: Annotated[str | None, typer.Option(help="Code of the standard's card.")] = None,
    exposure: Annotated[str | None, typer.Option(help="Code of the standard's list.")] = None,
    openings: Annotated[int | None, typer.Option(help="Of a hole, along its longer side.")] = None,
    length: Annotated[str | None, typer.Option(metavar="MM", help="The longer side.")] = None,
    depth: Annotated[str | None, typer.Option(metavar="MM", help="How far mesh hangs.")] = None,
    mass: Annotated[str | None, typer.Option(metavar="T", help="Loose rock it carries.")] = None,
    above_floor: Annotated[
        str | None, typer.Option(metavar="M", help="Its lower edge above the floor.")
    ] = None,
    by: Annotated[str, typer.Option(help="How these were read: eye, tape or photo.")] = "eye",
    again: Annotated[
        str | None, typer.Option(metavar="ID", help="The damage that is seen again.")
    ] = None,
    note: str = "",
    home: Home = None,
) -> int:
    """State damage as it was seen: what it means for entry holds at once.

    Example: lastrow damage add "4180 Main" "torn mesh" --at 590.4 --zone back --as Technician
    """
    from schemas.bodies.damage import Damage, DamageKind, DamageZone, How

    how = one_of(get_args(How), by, "way of reading")
    extent = {
        "openings": openings,
        "length": _read("value_mm", length, how),
        "bag_depth": _read("value_mm", depth, how),
        "loose_mass": _read("value_t", mass, how),
        "above_floor": _read("value_m", above_floor, how),
    }
    said = {
        "chainage_m": f"{metres(at, 'chainage')}",
        "to_m": None if to is None else f"{metres(to, 'end')}",
        "s_m": across,
        "zone": one_of(get_args(DamageZone), zone, "zone"),
        "kind": one_of(get_args(DamageKind), kind, "kind of damage"),
        "severity": severity,
        "exposure": exposure,
        "extent": {name: value for name, value in extent.items() if value is not None},
        "note": note,
    }
    with door_of(ctx).site(home) as site:
        from fieldapp.work.called import called
        from fieldapp.work.damage.stating import damage_known, record_damage
        from fieldapp.work.headings import heading as heading_of

        now = site.now()
        root = damage_known(site, again, now).id if again else None
        fixed = {
            "heading": heading_of(site, heading).id,
            "seen_at": now.isoformat(),
            "again": root,
        }
        body = stated(Damage, "the damage", **fixed, **said)
        kept = record_damage(site, body, named(site, who))
        known = damage_known(site, kept.id, now)
        print(f"{body.kind.capitalize()} in {known.heading} is kept as {called(known.id)}.")
        for line in _ranked(site, known.ranked):
            print(line)
    return 0


def damages(
    ctx: typer.Context,
    heading: Annotated[
        str | None, typer.Argument(metavar="HEADING", help="Only of this heading.")
    ] = None,
    *,
    home: Home = None,
) -> int:
    """List damage: where nobody may be, then what is overdue.

    Example: lastrow damage list "4180 Main"
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.damage.stating import damages as known_damages
        from fieldapp.work.headings import heading as heading_of

        place = heading_of(site, heading).id if heading else None
        rows = [_row(site, it) for it in known_damages(site, site.now(), place)]
    if not rows:
        print("No damage is recorded.")
        return 0
    for line in table(HEAD, rows, WIDEST):
        print(line)
    return 0


def show(
    ctx: typer.Context,
    damage: Annotated[str, typer.Argument(metavar="ID", help="Its short id, or its whole id.")],
    *,
    home: Home = None,
) -> int:
    """Show one damage: where it is, everything that was seen of it, and how it is ranked.

    Example: lastrow damage show 7K3Q-9XTR-5
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.report.words.damage import observations, place_words
        from fieldapp.work.called import called
        from fieldapp.work.damage.stating import damage_known

        known = damage_known(site, damage, site.now())
        zone, units = ZoneInfo(site.settings.zone), site.settings.units
        print(f"{known.newest.kind.capitalize()} in {known.heading}, {called(known.id)}")
        print(place_words(known.newest, units))
        for line in (*_ranked(site, known.ranked), *observations(known, units, zone)):
            print(line)
    return 0


def decide(
    ctx: typer.Context,
    damage: Annotated[str, typer.Argument(metavar="ID", help="Its short id, or its whole id.")],
    *,
    priority: Annotated[str, typer.Option(metavar="CODE", help="Of the standard.")],
    reason: Annotated[str, typer.Option(help="Why.")],
    who: As,
    home: Home = None,
) -> int:
    """Decide as engineer how soon a damage is repaired, in place of the standard's table.

    Example: lastrow damage decide 7K3Q-9XTR-5 --priority P3 --reason "bulkheaded" --as Engineer
    """
    from schemas.bodies.damage import DecidedPriority

    decided = stated(DecidedPriority, "the decision", priority=priority, because=reason)
    with door_of(ctx).site(home) as site:
        from fieldapp.work.damage.stating import damage_known, decide_priority

        kept = decide_priority(site, damage, decided, signed_in(site, who))
        for line in _ranked(site, damage_known(site, kept.id, site.now()).ranked):
            print(line)
    return 0


def _read(field: str, value: str | None, how: str) -> dict[str, Any] | None:
    return None if value is None else {field: value, "how": how}


def _ranked(site: "Site", ranked: "Ranked") -> "Iterator[str]":
    from fieldapp.report.words.damage import due_words, holds_words
    from fieldapp.report.words.findings import sentence
    from fieldapp.report.words.lengths import in_units

    due = due_words(ranked, ZoneInfo(site.settings.zone))
    yield f"{ranked.code}, {due}: {holds_words(ranked)}."
    for reason in ranked.because:
        yield f"  {sentence(in_units(reason, site.settings.units))}"


def _row(site: "Site", known: "DamageKnown") -> tuple[str, ...]:
    from fieldapp.report.words.damage import due_words, holds_words, place_words
    from fieldapp.work.called import called

    due = due_words(known.ranked, ZoneInfo(site.settings.zone))
    return (
        called(known.id),
        known.ranked.code,
        known.heading,
        place_words(known.newest, site.settings.units),
        known.newest.kind,
        holds_words(known.ranked) if known.outcome != "restored" else "restored",
        due if known.outcome is None else known.outcome,
    )
