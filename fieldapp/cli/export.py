"""`lastrow export`: the current entries as they were written."""

import sys
from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Annotated

import typer

from fieldapp.cli.door import Home, door_of
from fieldapp.cli.stated import one_of

if TYPE_CHECKING:
    from pathlib import Path

    from fieldapp.work.site import Site
    from schemas.entry import Entry

Kind = Annotated[
    str | None, typer.Option("--kind", metavar="KIND", help="Only entries of this kind.")
]
Unsent = Annotated[
    bool,
    typer.Option("--unsent", help="Only what was stated here and never sent, by any version."),
]


def export(
    ctx: typer.Context, *, kind: Kind = None, unsent: Unsent = False, home: Home = None
) -> int:
    """Print the current entries as JSON lines, each with the very bytes that were signed for.

    Example: lastrow export --kind round
    """
    if unsent:
        _print(_unsent(door_of(ctx).started_home(home), kind))
        return 0
    with door_of(ctx).site(home) as site:
        wanted = None if kind is None else one_of(kinds(site), kind, "kind of entry")
        _print(entry.line for entry in current_entries(site, wanted))
    return 0


def _print(lines: Iterable[bytes]) -> None:
    out = sys.stdout.buffer
    for line in lines:
        out.write(line + b"\n")
    out.flush()


def _unsent(home: "Path", kind: str | None) -> Iterator[bytes]:
    from fieldapp.store.home import DATABASE
    from fieldapp.store.unsent import unsent_lines
    from schemas.entry import read_entry

    for line in unsent_lines(home / DATABASE):
        if kind in (None, read_entry(line, source="an entry").kind):
            yield line


def kinds(site: "Site") -> tuple[str, ...]:
    """Give every kind that this version knows, and those that only a newer one does."""
    from schemas.bodies import BODIES

    return tuple(dict.fromkeys((*BODIES, *(entry.kind for entry in site.store.ledger.all()))))


def current_entries(site: "Site", kind: str | None) -> "Iterator[Entry]":
    """Give the current entries that nobody withdrew, in the order in which they were made."""
    from fieldapp.work.known import withdrawn

    void = withdrawn(site)
    wanted = kinds(site) if kind is None else (kind,)
    heads = [entry for one in wanted for entry in site.store.ledger.heads(one)]
    standing = (entry for entry in heads if entry.revision not in void)
    yield from sorted(standing, key=lambda entry: (entry.clock, entry.revision))
