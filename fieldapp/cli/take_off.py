"""`lastrow take-off`: what a heading's next round takes, or what a round took."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Final

import typer

from fieldapp.cli.door import Home, door_of
from fieldapp.cli.stated import metres
from fieldapp.cli.table import NO_BREAK, table
from schemas.trouble import BadInput

if TYPE_CHECKING:
    from decimal import Decimal

    from fieldapp.assess.take_off import TakeOff
    from fieldapp.report.words.lengths import Units
    from fieldapp.work.take_off import NextTakeOff, RoundTakeOff

HEAD = ("thing", "a round", "a metre")
WIDEST = (40, 16, 16)
USED_HEAD = ("used", "take-off", "used", "difference")
USED_WIDEST = (40, 16, 16, 24)


@dataclass(eq=False)
class NothingNamed(BadInput):
    """Neither a heading nor a round was named, or both."""

    happened = "A take-off is of one heading or of one round."
    kept = "Nothing was changed."
    do_next = "Name the heading, or the round behind --round."


FAR_MORE: Final = 3
"""So many times the least lap nobody lays; whoever types it rather means another figure."""


def take_off(  # noqa: PLR0913 - what a take-off is asked for
    ctx: typer.Context,
    heading: Annotated[
        str | None, typer.Argument(metavar="HEADING", help="Of its next round.")
    ] = None,
    *,
    advance_m: Annotated[
        str | None, typer.Option("--advance-m", metavar="M", help="As the last round, if not.")
    ] = None,
    lap_mm: Annotated[
        str | None, typer.Option("--lap-mm", metavar="MM", help="The least demanded, if not.")
    ] = None,
    of_round: Annotated[
        str | None, typer.Option("--round", metavar="ROUND", help="Of this recorded round.")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Answer as JSON.")] = False,
    home: Home = None,
) -> int:
    """Say how many bolts, plates, sheets or strips and capsules a round takes, and a metre of it.

    Example: lastrow take-off "Wrenfall Decline" --advance-m 3.6 --lap-mm 300
    """
    if (heading is None) == (of_round is None):
        raise NothingNamed
    with door_of(ctx).site(home) as site:
        from fieldapp.report.words.take_off import priced_words
        from fieldapp.work.rounds import find_round
        from fieldapp.work.take_off import RoundTakeOff, next_take_off, round_take_off

        found: NextTakeOff | RoundTakeOff
        if of_round is not None:
            found = round_take_off(site, find_round(site, of_round))
        else:
            advance, lap = _read(advance_m, "advance"), _read(lap_mm, "lap")
            found = next_take_off(site, heading or "", advance, lap)
        if as_json:
            from pydantic import TypeAdapter

            print(TypeAdapter(type(found)).dump_json(found).decode())
            return 0
        print(_title(found))
        for line in _lines(found.take_off, site.settings.units):
            print(line)
        if found.priced is not None:
            print(priced_words(found.priced))
        for line in _used(found) if isinstance(found, RoundTakeOff) else _short(found, lap_mm):
            print(line)
    return 0


def _read(given: str | None, what: str) -> "Decimal | None":
    return None if given is None else metres(given, what)


def _title(found: "NextTakeOff | RoundTakeOff") -> str:
    from fieldapp.work.take_off import RoundTakeOff

    if isinstance(found, RoundTakeOff):
        return f"Round {found.number}, by {found.standard}"
    said = f"{found.heading}, next round, by {found.standard}"
    if found.measured_in is None:
        return said
    return f"{said}, profile as measured in round {found.measured_in}"


def _short(found: "NextTakeOff", lap_mm: str | None) -> Iterator[str]:
    """Say that a lap was asked for which the standard does not accept, or nobody would lay."""
    if lap_mm is None:
        return
    lap, least = metres(lap_mm, "lap"), found.least_lap_mm
    if lap < least:
        yield f"A lap of {lap_mm} mm is less than the {least} mm that are demanded."
    if lap > FAR_MORE * least > 0:
        yield f"A lap of {lap_mm} mm is far more than the {least} mm demanded: is that meant?"


def _lines(found: "TakeOff", units: "Units") -> Iterator[str]:
    from fieldapp.report.words.take_off import how_lines, part_words, wanted_words

    for part in found.parts:
        yield part_words(part, units)
        yield ""
        yield from _table(part)
        yield ""
    said = wanted_words(found, units)
    yield f"Both parts: {said}." if found.parts else said
    yield ""
    yield from _table(found)
    yield ""
    yield from how_lines(found, units)


def _table(found: "TakeOff") -> Iterator[str]:
    from fieldapp.report.words.take_off import much_words, thing_words

    rows = [
        (thing_words(it), much_words(it, it.per_round), much_words(it, it.per_metre))
        for it in found.items
    ]
    yield from (line.replace(NO_BREAK, " ") for line in table(HEAD, rows, WIDEST))


def _used(found: "RoundTakeOff") -> Iterator[str]:
    from fieldapp.report.words.work import difference_words, kind_words, plain

    if not found.used:
        yield "Nothing is stated of what was used."
        return
    rows = [
        (kind_words(it), plain(it.by_standard), plain(it.used), difference_words(it))
        for it in found.used
    ]
    yield from table(USED_HEAD, rows, USED_WIDEST)
