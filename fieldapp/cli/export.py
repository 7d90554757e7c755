"""`lastrow export`: the current entries as they were written."""

import sys
from collections.abc import Iterator
from typing import TYPE_CHECKING, Annotated

import typer

from fieldapp.cli.door import Home, door_of
from fieldapp.cli.stated import one_of

if TYPE_CHECKING:
    from fieldapp.work.site import Site
    from schemas.entry import Entry

Kind = Annotated[
    str | None, typer.Option("--kind", metavar="KIND", help="Only entries of this kind.")
]


def export(ctx: typer.Context, *, kind: Kind = None, home: Home = None) -> int:
    """Print the current entries as JSON lines, each with the very bytes that were signed for.

    Example: lastrow export --kind round
    """
    with door_of(ctx).site(home) as site:
        wanted = None if kind is None else one_of(kinds(site), kind, "kind of entry")
        out = sys.stdout.buffer
        for entry in current_entries(site, wanted):
            out.write(entry.line + b"\n")
        out.flush()
    return 0


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
