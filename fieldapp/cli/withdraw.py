"""`lastrow withdraw`: what was stated by mistake is void from now on, and kept."""

from typing import TYPE_CHECKING, Annotated
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.acting import As, signed_in
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.stated import stated

if TYPE_CHECKING:
    from fieldapp.work.site import Site
    from schemas.entry import Entry


def withdraw(
    ctx: typer.Context,
    entry: Annotated[
        str, typer.Argument(metavar="REVISION-or-ID", help="As lastrow export shows it.")
    ],
    *,
    reason: Annotated[str, typer.Option(help="Why it is void.")],
    who: As,
    home: Home = None,
) -> int:
    """Declare an entry void that was stated by mistake; it is kept, with the reason.

    Example: lastrow withdraw 5f3a91bc --reason "wrong heading" --as "Day supervisor"
    """
    from schemas.bodies.withdrawal import Withdrawal

    stated(Withdrawal, "the reason", thing="-", revision="-", reason=reason)
    with door_of(ctx).site(home) as site:
        from fieldapp.work import withdrawals

        void = withdrawals.entry_named(site, entry)
        withdrawals.withdraw(site, void.revision, signed_in(site, who), reason=reason)
        before = [it.revision for it in map(site.store.ledger.get, void.parents) if it]
        print(f"Void: {_words(site, void)}")
    print(f"Reason: {reason}")
    print(f"What it changed stands as before: {', '.join(before)}" if before else NOTHING_BEFORE)
    return 0


NOTHING_BEFORE = "Nothing stands in its place."


def _words(site: "Site", entry: "Entry") -> str:
    from fieldapp.report.words.findings import when

    kind, made_at = entry.kind.replace("_", " "), when(entry.made_at, ZoneInfo(site.settings.zone))
    return f"{kind} of {made_at}, revision {entry.revision}"
