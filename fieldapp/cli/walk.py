"""`lastrow walk plan` and `show`: what is due on condition walks, and what is known of a place."""

from datetime import datetime, time
from typing import TYPE_CHECKING, Annotated
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.door import Home, door_of
from fieldapp.cli.stated import metres
from fieldapp.cli.table import NO_BREAK, table

if TYPE_CHECKING:
    from collections.abc import Iterator

    from fieldapp.work.site import Site
    from fieldapp.work.walk.plan import WalkPlan
    from fieldapp.work.walk.section_due import SectionDue
    from fieldapp.work.walk.section_history import SectionKnown

HEAD = ("section", "due", "answer", "why")
WIDEST = (20, 24, 30, 84)
MINE_HEAD = ("heading", "due", "first")
MINE_WIDEST = (24, 32, 84)

AsJson = Annotated[bool, typer.Option("--json", help="Answer as JSON.")]


def plan(
    ctx: typer.Context,
    heading: Annotated[
        str | None, typer.Argument(metavar="HEADING", help="Left out: all headings in short.")
    ] = None,
    *,
    month: Annotated[
        str | None, typer.Option(metavar="YYYY-MM", help="Left out: this month.")
    ] = None,
    as_json: AsJson = False,
    home: Home = None,
) -> int:
    """Say which sections are walked in a month, the late ones first, and how much of each.

    Example: lastrow walk plan "4180 Main" --month 2031-05
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.headings import heading as heading_of
        from fieldapp.work.headings import headings
        from fieldapp.work.walk.plan import plan_of_month, this_month

        wanted = month or this_month(site)
        places = headings(site) if heading is None else (heading_of(site, heading),)
        plans = {it.body.name: plan_of_month(site, it.id, wanted) for it in places}
        if as_json:
            from fieldapp.cli.walk_json import plans_json

            print(plans_json(plans))
        elif heading is None:
            _print_mine(site, plans)
        else:
            for name, found in plans.items():
                _print_plan(site, name, found)
    return 0


def show(
    ctx: typer.Context,
    heading: Annotated[str, typer.Argument(metavar="HEADING", help="Its name.")],
    chainage: Annotated[str, typer.Argument(metavar="M", help="A place in the section.")],
    *,
    as_json: AsJson = False,
    home: Home = None,
) -> int:
    """Show what is known of the section at a place: every look, its rust, and both standards.

    Example: lastrow walk show "4180 Main" 590.4
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.headings import heading as heading_of
        from fieldapp.work.walk.section_history import section_at

        place = heading_of(site, heading)
        known = section_at(site, place.id, metres(chainage, "chainage"))
        if as_json:
            from fieldapp.cli.walk_json import section_json

            print(section_json(site, place.id, known))
            return 0
        print(f"{place.body.name}, {_span(site, known)}")
        for line in _section_lines(site, place.id, known):
            print(line.replace(NO_BREAK, " "))
    print("\nWhat is seen is the visible part only; this is no permission to go there.")
    return 0


def _print_mine(site: "Site", plans: "dict[str, WalkPlan]") -> None:
    from fieldapp.report.words.section import plan_words, span_of, why_words

    units = site.settings.units
    rows = []
    for name, found in plans.items():
        first = found.sections[0] if found.sections else None
        said = f"{span_of(first.section, units)}: {why_words(first, units)}" if first else ""
        rows.append((name, plan_words(found), said))
    for line in table(MINE_HEAD, rows, MINE_WIDEST):
        print(line)


def _print_plan(site: "Site", name: str, found: "WalkPlan") -> None:
    from fieldapp.report.words.section import (
        closed_words,
        due_words,
        much_words,
        order_words,
        plan_words,
        sample_lines,
        span_of,
        why_words,
    )
    from fieldapp.work.entry import entry

    zone, units = ZoneInfo(site.settings.zone), site.settings.units
    said = f"{name}, {found.month}: {plan_words(found)}"
    print("; ".join(filter(None, (said, order_words(found)))))
    state = entry(site, found.heading_id, site.now())
    closed = closed_words((it.section for it in found.sections), state, units)
    if closed:
        print(closed.replace(NO_BREAK, " "))
    rows = [
        (span_of(it.section, units), due_words(it, zone), much_words(it), why_words(it, units))
        for it in found.sections
    ]
    for line in table(HEAD, rows, WIDEST) if rows else ():
        print(line)
    for sample in found.looked_at:
        first, *spots = sample_lines(sample, units)
        print(f"\n{first}".replace(NO_BREAK, " "))
        for spot in spots:
            print(f"  {spot}".replace(NO_BREAK, " "))


def _section_lines(site: "Site", heading_id: str, known: "SectionKnown") -> "Iterator[str]":
    from fieldapp.report.words.section import corrosion_lines, judged_lines, movement_lines
    from fieldapp.work.both_standards import both_standards
    from fieldapp.work.walk.section_due import NoWalkRule, section_due, walking

    zone, units = ZoneInfo(site.settings.zone), site.settings.units
    try:
        due = section_due(site, walking(site, heading_id, known.section), known)
    except NoWalkRule as trouble:
        yield str(trouble)
    else:
        yield from _titled("Due", _due_lines(site, due))
        yield from _titled("Rust, of what is seen", corrosion_lines(due.corrosion, units, zone))
    moved = list(movement_lines(known, units, zone))
    if moved:
        yield from _titled("Movement, by every reading", iter(moved))
    yield from _titled("Looks, the newest first", _looks(site, known))
    judged = both_standards(site, heading_id, known.section)
    lines = (line for it in judged for line in judged_lines(it, units))
    yield from _titled("Both standards", lines)


def _titled(title: str, lines: "Iterator[str]") -> "Iterator[str]":
    yield f"\n{title}"
    told = False
    for line in lines:
        told = True
        yield f"  {line}"
    if not told:
        yield "  nothing is recorded"


def _due_lines(site: "Site", due: "SectionDue") -> "Iterator[str]":
    from fieldapp.report.words.findings import day, sentence
    from fieldapp.report.words.lengths import in_units

    zone, units = ZoneInfo(site.settings.zone), site.settings.units
    noon = datetime.combine(due.due.on, time(12), zone)
    yield f"{day(noon, zone)}: {in_units(due.due.why, units)}"
    yield from (sentence(in_units(it, units)) for it in due.before_next_walk)


def _looks(site: "Site", known: "SectionKnown") -> "Iterator[str]":
    from fieldapp.report.words.section import look_lines
    from fieldapp.work.people import name_of

    for look in known.looks:
        yield from look_lines(look, name_of(site, look.author), site.settings)


def _span(site: "Site", known: "SectionKnown") -> str:
    from fieldapp.report.words.section import span_of

    return span_of(known.section, site.settings.units).replace(NO_BREAK, " ")
