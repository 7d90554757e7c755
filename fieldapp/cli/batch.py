"""`lastrow batch …`: deliveries of bolts, resin and mesh, and those in doubt."""

from typing import TYPE_CHECKING, Annotated, get_args

import typer

from fieldapp.cli.acting import As, named
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.stated import one_of, stated

if TYPE_CHECKING:
    from fieldapp.work.site import Site

Label = Annotated[str, typer.Argument(help="What its label says.")]


def add(  # noqa: PLR0913 - what a label says
    ctx: typer.Context,
    label: Label,
    *,
    of: Annotated[str, typer.Option(metavar="WHAT", help="bolts, resin or mesh.")],
    who: As,
    bolt_type: Annotated[
        str | None, typer.Option(metavar="CODE", help="Bolt type of the standard.")
    ] = None,
    length: Annotated[str | None, typer.Option(metavar="M", help="Length of the bolts.")] = None,
    home: Home = None,
) -> int:
    """Enter a batch as its label says.

    Example: lastrow batch add RB24-0731 --of bolts --bolt-type RB24 --length 2.4 --as Keeper
    """
    from schemas.bodies.batch import Batch

    what = one_of(get_args(Batch.model_fields["of"].annotation), of, "batch")
    body = stated(Batch, "the batch", label=label, of=what, bolt_type=bolt_type, length_m=length)
    with door_of(ctx).site(home) as site:
        from fieldapp.work.batches import add_batch

        add_batch(site, body, named(site, who))
    print(f"Batch {label} of {what} is entered.")
    return 0


def doubt(
    ctx: typer.Context,
    label: Label,
    *,
    reason: Annotated[str, typer.Option(help="Why it is in doubt.")],
    who: As,
    home: Home = None,
) -> int:
    """Put a batch in doubt, and name the rounds that used it: an engineer decides in 24 h.

    Example: lastrow batch doubt RES-0118 --reason "sets too slowly" --as "Day supervisor"
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.batches import doubt_batch

        doubted = doubt_batch(site, label, named(site, who), reason=reason)
        print(f"Batch {doubted.body.label} is in doubt. It closes no heading by itself.")
        for line in _rounds(site, doubted.body.label):
            print(line)
    return 0


def _rounds(site: "Site", label: str) -> list[str]:
    from fieldapp.work.batches import in_doubt, rounds_in_doubt
    from fieldapp.work.headings import heading

    return [
        f"In doubt: round {known.body.number} of {heading(site, known.body.heading).body.name}."
        for known in rounds_in_doubt(site)
        if label in in_doubt(site, known.body)
    ]
