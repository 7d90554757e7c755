"""`lastrow verify`: whether a printed sheet shows what somebody here has signed."""

from typing import TYPE_CHECKING, Annotated
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.door import Home, door_of
from fieldapp.cli.exits import ACCEPTED, NOT_YET

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from fieldapp.report.verified import Verified
    from fieldapp.work.site import Site


def verify(
    ctx: typer.Context,
    code: Annotated[
        str, typer.Argument(help="The code printed or scanned from a round sheet or a report.")
    ],
    names: Annotated[
        list[str] | None,
        typer.Argument(metavar="[HEADING…]", help="Those of a month's report of several."),
    ] = None,
    *,
    home: Home = None,
) -> int:
    """Look up the code of a round sheet or a report: what it is of, and whether all of it fits.

    Example: lastrow verify 7K3Q-9XTR-4F2A-91BC-77E0-5
    """
    from fieldapp.report.report_code import is_report_code

    with door_of(ctx).site(home) as site:
        if is_report_code(code):
            return _report(site, code, names or ())
        from fieldapp.report.verified import verified

        found = verified(site, code)
        for line in _said(site, found):
            print(line)
    fits = found.signature_fits and found.judged_alike and not found.superseded
    return ACCEPTED if fits else NOT_YET


def _report(site: "Site", code: str, names: "Sequence[str]") -> int:
    from fieldapp.report.report_verified import report_verified
    from fieldapp.report.reported import title_of
    from fieldapp.report.words.findings import when

    found = report_verified(site, code, names)
    at = when(found.code.at, ZoneInfo(site.settings.zone))
    print(f"{title_of(found.facts)}, {site.mine.name}, as at {at}.")
    if found.fits:
        print("It fits: the records here come to the same facts.")
        return ACCEPTED
    if found.code.is_older:
        print("It was made in an older way: whether it fits can't be told here any more.")
        print("Print it anew, and take this one down.")
        return NOT_YET
    print("It does NOT fit: the records here come to other facts as at that time.")
    print("Something stated before then came in since, or is not here, or the page was altered.")
    print("Print it anew, and take this one down.")
    return NOT_YET


def _said(site: "Site", found: "Verified") -> "Iterator[str]":
    from fieldapp.report.words.findings import when, with_role
    from fieldapp.work.headings import heading
    from fieldapp.work.people import name_of

    zone = ZoneInfo(site.settings.zone)
    seen, signed = found.signed_round.body, found.sign_off
    yield f"{seen.name.capitalize()} of {heading(site, seen.heading).body.name}, {site.mine.name}."
    signer = name_of(site, signed.entry.author)
    yield f"{signed.body.decision.capitalize()} by {with_role(signer, signed.body.role)}."
    yield f"Signed {when(signed.entry.made_at, zone)}: {signed.body.says}."
    yield _fits("The signature", "is the signer's", fits=found.signature_fits)
    yield _fits("The hash", "is that of the round judged again", fits=found.judged_alike)
    if not found.judged_alike:
        yield "What is recorded around the round, or how rounds are judged, has changed since."
        yield "Look at the round here before anybody relies on this sheet."
    if found.superseded:
        yield "The round was looked at again since: this sheet is out of date."


def _fits(what: str, so: str, *, fits: bool) -> str:
    return f"{what} fits: it {so}." if fits else f"{what} does NOT fit."
