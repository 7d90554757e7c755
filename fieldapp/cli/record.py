"""`lastrow record`: storing a round from a bundle as an entry, signed or not."""

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, cast, get_args
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.acting import As, named
from fieldapp.cli.bundles import bundle_in
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.sign_codes import asked
from fieldapp.cli.stated import one_of
from schemas.trouble import NotAllowed, Trouble

if TYPE_CHECKING:
    from fieldapp.work.site import Site
    from schemas.bodies.sign_off import Decision
    from schemas.bundle import Bundle

Signing = Annotated[
    str | None,
    typer.Option(
        "--sign",
        metavar="DECISION",
        help="Sign it: accepted, sent back or barricaded. The sign code is asked for.",
    ),
]


@dataclass(eq=False)
class NothingStored(NotAllowed):
    """A round was to be signed and could not be: it was not taken in either."""

    why: str
    then: str

    happened = "The round was not signed. {why}."
    kept = "Nothing was recorded, neither the round nor a decision; the bundle is as it was."
    do_next = "{then}. Without --sign the round is recorded, not signed."


def record(
    ctx: typer.Context,
    bundle: Annotated[Path, typer.Argument(metavar="BUNDLE", help="A bundle file.")],
    *,
    who: As,
    sign: Signing = None,
    home: Home = None,
) -> int:
    """Store a round from a bundle file as an entry, and sign it off when a decision is given.

    Example: lastrow record round-412.json --as "Day supervisor" --sign "sent back"
    """
    from schemas.bodies.sign_off import Decision

    decision = None if sign is None else one_of(get_args(Decision), sign, "decision")
    read = bundle_in(bundle)
    with door_of(ctx).site(home) as site:
        if decision is None:
            _record(site, read, who)
        else:
            _sign(site, read, who, cast("Decision", decision))
    return 0


def _record(site: "Site", bundle: "Bundle", who: str) -> None:
    from fieldapp.work.record import record as keep
    from fieldapp.work.record import take_in

    session = named(site, who)
    kept = keep(site, take_in(site, bundle, session), session)
    print(f"{kept.body.name.capitalize()} of {bundle.heading.name} is recorded, not signed.")
    print(f"Round {kept.id}, revision {kept.entry.revision}")
    _ask_about_work(site, bundle)


def _sign(site: "Site", bundle: "Bundle", who: str, decision: "Decision") -> None:
    from fieldapp.report.round_sheet.code import sheet_code
    from fieldapp.report.words.findings import sentence
    from fieldapp.work.people import person
    from fieldapp.work.record import discard, take_in
    from fieldapp.work.sign import Signing as Deciding
    from fieldapp.work.sign import sign_round

    signer = person(site, who)
    code = asked(f"sign code of {signer.body.name}")
    session = named(site, who)
    work = take_in(site, bundle, session)
    try:
        signed = sign_round(site, session, Deciding(work, decision, site.now()), code)
    except Trouble as refused:
        discard(site, work)
        if isinstance(refused, NotAllowed):
            why, _kept, then = (it.removesuffix(".") for it in refused.sentences())
            raise NothingStored(why, then) from refused
        raise
    body = signed.sign_off.body
    print(f"{work.seen.name.capitalize()} of {work.heading.name} is {decision}.")
    print(f"It {body.says}.")
    for part in _entry_parts(site, body.heading):
        print(sentence(part))
    print(
        f"Round {work.round_id}, sheet code {sheet_code(work.round_id, body.assessment).readable}"
    )
    _ask_about_work(site, bundle)


def _ask_about_work(site: "Site", bundle: "Bundle") -> None:
    """Ask about times of the work that can hardly be so. They are recorded as they were stated."""
    from fieldapp.work.work_doubts import work_doubts

    now = site.now().astimezone(ZoneInfo(site.settings.zone))
    asked = work_doubts(bundle.round.work, now)
    for it in asked:
        print(f"{it}: was it so?")
    if asked:
        print("If not, put it right in the bundle and record the round again.")


def _entry_parts(site: "Site", heading_id: str) -> tuple[str, ...]:
    """Say where entry stands once it is signed, whatever the decision alone would allow."""
    from fieldapp.report.words.entry import entry_said
    from fieldapp.work.entry import entry

    said = entry_said(entry(site, heading_id, site.now()), site.settings.units)
    return tuple(filter(None, (f"entry {said.line}", said.rest)))
