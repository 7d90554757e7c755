"""`lastrow verify`: whether a printed sheet shows what somebody here has signed."""

from typing import TYPE_CHECKING, Annotated
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.door import Home, door_of
from fieldapp.cli.exits import ACCEPTED, NOT_YET

if TYPE_CHECKING:
    from collections.abc import Iterator

    from fieldapp.report.verified import Verified
    from fieldapp.work.site import Site


def verify(
    ctx: typer.Context,
    code: Annotated[str, typer.Argument(help="The code printed or scanned from a round sheet.")],
    *,
    home: Home = None,
) -> int:
    """Look up the code of a round sheet: which round, who decided what, whether all of it fits.

    Example: lastrow verify 7K3Q-9XTR-4F2A-91BC-77E0-5
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.report.verified import verified

        found = verified(site, code)
        for line in _said(site, found):
            print(line)
    fits = found.signature_fits and not found.superseded
    return ACCEPTED if fits else NOT_YET


def _said(site: "Site", found: "Verified") -> "Iterator[str]":
    from fieldapp.report.words import when, with_role
    from fieldapp.work.headings import heading
    from fieldapp.work.people import name_of

    zone = ZoneInfo(site.settings.zone)
    seen, signed = found.signed_round.body, found.sign_off
    yield f"Round {seen.number} of {heading(site, seen.heading).body.name}, {site.mine.name}."
    signer = name_of(site, signed.entry.author)
    yield f"{signed.body.decision.capitalize()} by {with_role(signer, signed.body.role)}."
    yield f"Signed {when(signed.entry.made_at, zone)}: {signed.body.says}."
    yield _fits("The signature", "is the signer's", fits=found.signature_fits)
    yield _fits("The hash", "is that of the round judged again", fits=found.judged_alike)
    if not found.judged_alike:
        yield "What is recorded around the round, or how rounds are judged, has changed since."
    if found.superseded:
        yield "The round was looked at again since: this sheet is out of date."


def _fits(what: str, so: str, *, fits: bool) -> str:
    return f"{what} fits: it {so}." if fits else f"{what} does NOT fit."
