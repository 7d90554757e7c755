"""`lastrow batch …`: deliveries of bolts, resin and mesh, those in doubt, and the decision."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, get_args
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.acting import As, named, signed_in
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.stated import one_of, stated

if TYPE_CHECKING:
    from fieldapp.work.batches import EngineersDecision
    from fieldapp.work.site import Site
    from schemas.bodies.batch import Batch

Label = Annotated[str, typer.Argument(help="What its label says.")]
Why = Annotated[str, typer.Option(help="Why it is decided so.")]


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
        named_by = _rounds(site, doubted.body.label)
        for line in named_by or ["No recorded round names it: ask who used it, and where."]:
            print(line)
    return 0


def clear(ctx: typer.Context, label: Label, *, reason: Why, who: As, home: Home = None) -> int:
    """Decide as engineer that nothing is wrong with a batch in doubt.

    Example: lastrow batch clear RES-0118 --reason "set tests passed" --as "Geotechnical engineer"
    """
    _decide(ctx, label, "cleared", (reason, who, home))
    print(f"Batch {label} is cleared: its rounds are no longer in doubt.")
    return 0


def keep(ctx: typer.Context, label: Label, *, reason: Why, who: As, home: Home = None) -> int:
    """Decide as engineer that a batch stays in doubt, and name the rounds that used it.

    Example: lastrow batch keep RES-0118 --reason "pull test failed" --as "Geotechnical engineer"
    """
    rounds = _decide(ctx, label, "kept", (reason, who, home))
    print(f"Batch {label} stays in doubt. It closes no heading by itself: send back what must be.")
    for line in rounds:
        print(line)
    return 0


def _decide(
    ctx: typer.Context,
    label: str,
    decision: "EngineersDecision",
    said: tuple[str, str, Path | None],
) -> list[str]:
    """Decide in the name of the person who gives their sign code; name the rounds in doubt."""
    reason, who, home = said
    with door_of(ctx).site(home) as site:
        from fieldapp.work.batches import decide_batch

        decide_batch(site, label, signed_in(site, who), decision=decision, reason=reason)
        return _rounds(site, label)


def batches(ctx: typer.Context, *, home: Home = None) -> int:
    """List every batch, the newest first, and what is in doubt.

    Example: lastrow batch list
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.batches import batches as delivered

        for batch in delivered(site):
            kind = " ".join(filter(None, (batch.of, batch.bolt_type)))
            print(f"{batch.label}: {kind}{_doubt_words(site, batch)}")
    return 0


def _doubt_words(site: "Site", batch: "Batch") -> str:
    from fieldapp.report.words.findings import when

    if batch.decided is not None:
        return f", {_DECIDED[batch.decided]}: {batch.decided_because}"
    if not batch.in_doubt:
        return ""
    by, zone = batch.decide_by, ZoneInfo(site.settings.zone)
    until = f", an engineer decides until {when(by, zone)}" if by else ""
    return f", in doubt: {batch.reason}{until}"


_DECIDED = {"cleared": "cleared by an engineer", "kept": "kept in doubt by an engineer"}


def _rounds(site: "Site", label: str) -> list[str]:
    from fieldapp.report.batch_told import used_in

    return [
        f"In doubt: {it.round} of {it.heading}, {it.place}, {it.at}."
        for it in used_in(site, label)
    ]
