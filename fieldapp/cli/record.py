"""`lastrow record`: storing a round from a bundle as an entry, signed or not."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, cast, get_args

import typer

from fieldapp.cli.acting import As, named
from fieldapp.cli.bundles import bundle_in
from fieldapp.cli.door import Home, door_of
from fieldapp.cli.sign_codes import asked
from fieldapp.cli.stated import one_of
from schemas.trouble import Trouble

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
    print(f"Round {kept.body.number} of {bundle.heading.name} is recorded, not signed.")
    print(f"Round {kept.id}, revision {kept.entry.revision}")


def _sign(site: "Site", bundle: "Bundle", who: str, decision: "Decision") -> None:
    from fieldapp.report.lengths import line_words
    from fieldapp.report.sheet_code import sheet_code
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
    except Trouble:
        discard(site, work)
        raise
    body = signed.sign_off.body
    print(f"Round {work.seen.number} of {work.heading.name} is {decision}.")
    print(f"It {body.says}.")
    line = line_words(body.entry_line_m, site.settings.units)
    print(f"Entry by this decision: to {line}.")
    print(
        f"Round {work.round_id}, sheet code {sheet_code(work.round_id, body.assessment).readable}"
    )
