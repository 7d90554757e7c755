"""In whose name a command is done."""

from typing import TYPE_CHECKING, Annotated

import typer

from fieldapp.cli.sign_codes import asked

if TYPE_CHECKING:
    from fieldapp.work.site import Session, Site

As = Annotated[
    str,
    typer.Option("--as", metavar="PERSON", help="Who does it: a name or id enrolled here."),
]


def signed_in(site: "Site", name: str) -> "Session":
    """Sign a person in with the sign code that they give.

    Raises
    ------
    NotAllowed
        The code is wrong, or the person must wait after wrong ones.
    """
    return signed_in_with(site, name)[0]


def signed_in_with(site: "Site", name: str) -> tuple["Session", str]:
    """Sign a person in, and give the sign code too: what they do is signed with their key.

    Raises
    ------
    NotAllowed
        The code is wrong, or the person must wait after wrong ones.
    """
    from fieldapp.work.people import person, sign_in

    who = person(site, name)
    code = asked(f"sign code of {who.body.name}")
    return sign_in(site, who, code), code


def named(site: "Site", name: str) -> "Session":
    """Name a person as author of what anyone may state: no code is asked for."""
    from fieldapp.work.people import person
    from fieldapp.work.site import Session

    who = person(site, name)
    return Session(person_id=who.id, name=who.body.name, roles=who.body.roles)
