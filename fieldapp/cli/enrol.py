"""`lastrow enrol …`: the office signs tablets and people, and ends it."""

import re
from pathlib import Path
from typing import TYPE_CHECKING, Annotated
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.door import Home, door_of
from fieldapp.cli.pairing_papers import write_paper
from fieldapp.cli.person import add
from fieldapp.cli.sign_codes import asked, asked_openly

if TYPE_CHECKING:
    from collections.abc import Iterator

    from fieldapp.work.enrol.office import SeenTablet
    from fieldapp.work.site import Site

Check = Annotated[
    str | None, typer.Option(metavar="NUMBER", help="The check number that the tablet shows.")
]
_TABLET = re.compile(r"[a-z2-7]{16}")


def tablet(
    ctx: typer.Context,
    request: Annotated[
        str, typer.Argument(help="A tablet's request, or the id of one heard of by the share.")
    ],
    *,
    name: Annotated[str, typer.Option(help="What the tablet is called from now on.")],
    answer: Annotated[
        Path, typer.Option(metavar="FILE", help="Written for the tablet: .png or .json.")
    ] = Path("answer.png"),
    check: Check = None,
    home: Home = None,
) -> int:
    """Enrol a tablet; its check number is asked for, then the site code.

    Example: lastrow enrol tablet request.png --name "Tablet 3" --answer answer.png
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.enrol import office
        from fieldapp.work.enrol.pairing_papers import request_at
        from schemas.check_number import check_number, in_groups

        said = check or asked_openly("check number on the tablet")
        if _TABLET.fullmatch(request) and not Path(request).exists():
            office.enrol_seen_tablet(site, request, name, check=said, site_code=asked("site code"))
            print(f"{name} is enrolled: what it stated is believed at the next exchange.")
            return 0
        given = office.enrol_tablet(
            site, request_at(Path(request)), name, check=said, site_code=asked("site code")
        )
        written = write_paper(given, answer)
        print(f"{name} is enrolled. Its answer is in {written}.")
        print(f"Check number of the site: {in_groups(check_number(given.root_key))}")
    print("Next, on the tablet: lastrow pair take FILE, then lastrow share FOLDER")
    return 0


def person(
    ctx: typer.Context,
    name: Annotated[str, typer.Argument(help="Name or id of the person.")],
    *,
    role: Annotated[
        list[str] | None,
        typer.Option("--role", metavar="ROLE", help="For somebody new; may be given again."),
    ] = None,
    check: Check = None,
    home: Home = None,
) -> int:
    """Enrol somebody new with a role, or certify the key that they made on a tablet.

    Example: lastrow enrol person "Day supervisor" --role "shift supervisor"
    """
    if role:
        return add(ctx, name, role=role, home=home)
    with door_of(ctx).site(home) as site:
        from fieldapp.work.enrol.key_requests import certify_key, refuse_none_waiting
        from fieldapp.work.people import person as enrolled

        who = enrolled(site, name)
        refuse_none_waiting(site, who)
        said = check or asked_openly(f"check number that {who.body.name} reads on the tablet")
        certify_key(site, who, check=said, site_code=asked("site code"))
    print(f"{who.body.name} can sign on that tablet once it has shared again.")
    return 0


def listed(ctx: typer.Context, *, home: Home = None) -> int:
    """List tablets, those not believed, and the keys that wait to be certified.

    Example: lastrow enrol list
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.enrol.office import tablets

        for seen in tablets(site):
            print(_tablet_line(seen))
        for line in _waiting(site):
            print(line)
    return 0


def revoke_tablet(
    ctx: typer.Context,
    name: Annotated[str, typer.Argument(help="Name or id of the tablet.")],
    *,
    reason: Annotated[str, typer.Option(help="Why: lost, stolen, sold.")],
    home: Home = None,
) -> int:
    """Believe nothing more of a tablet than what is held here of it after sharing.

    Example: lastrow enrol revoke-tablet "Tablet 3" --reason lost
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.enrol import office

        known = office.tablet_called(site, name)
        cut = office.revoke_tablet(site, known.tablet, reason, site_code=asked("site code"))
    print(f"{name} is believed up to its segment {cut.cut_at}, and no further.")
    return 0


def renew(ctx: typer.Context, *, home: Home = None) -> int:
    """Renew the records of trust, by the site code: tablets warn where the newest is a month old.

    Example: lastrow enrol renew
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.enrol.renewing import renew as make_anew

        make_anew(site, site_code=asked("site code"))
    print("The records of trust are renewed: tablets hear of it when they share.")
    return 0


def settle(ctx: typer.Context, *, home: Home = None) -> int:
    """Settle records of trust that go apart: says what each states, then asks the site code.

    Example: lastrow enrol settle
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.report.words.findings import when
        from fieldapp.work.enrol.rivals import NothingToSettle, rivals, settle_rivals

        found, zone = rivals(site), ZoneInfo(site.settings.zone)
        if not found:
            raise NothingToSettle
        for it in found:
            made = when(it.made_at, zone) if it.made_at else "time not said"
            print(f"Record {it.number} ({it.hash16}), {made}:")
            print(*(f"  {line}" for line in it.says or ("renews",)), sep="\n")
        print("Settling it enrols everybody named here, but for whom either revokes.")
        settle_rivals(site, site_code=asked("site code"))
    print("It is settled: tablets hear of it when they share. Revoke whom it should not have.")
    return 0


def _tablet_line(seen: "SeenTablet") -> str:
    from fieldapp.assess.words import counted

    name = seen.name or (f"follows {seen.follows}" if seen.follows else "not enrolled")
    if seen.cut_at is not None:
        standing = f"revoked after segment {seen.cut_at}"
    else:
        standing = "believed" if seen.counts else "kept, not believed"
    return f"{name} ({seen.tablet}): {counted(seen.sealed, 'segment')}, {standing}"


def _waiting(site: "Site") -> "Iterator[str]":
    from fieldapp.report.words.findings import when
    from fieldapp.work.enrol.key_requests import waiting_keys
    from fieldapp.work.people import name_of
    from fieldapp.work.share.delivered import tablet_names

    names = tablet_names(site)
    for asked_for in waiting_keys(site):
        who = name_of(site, asked_for.body.person)
        where = names.get(asked_for.body.tablet, asked_for.body.tablet)
        asked_at = when(asked_for.entry.made_at, ZoneInfo(site.settings.zone))
        yield f"{who} asks for a key on {where}, {asked_at}"
