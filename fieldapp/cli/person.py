"""`lastrow person …`: enrolling people, their sign codes, ending an enrolment."""

from typing import TYPE_CHECKING, Annotated, cast

import typer

from fieldapp.cli.door import Home, door_of
from fieldapp.cli.sign_codes import asked, asked_new
from fieldapp.cli.stated import one_of

if TYPE_CHECKING:
    from schemas.bodies.person import Role

Name = Annotated[str, typer.Argument(help="Name or id of the person.")]
Roles = Annotated[
    list[str],
    typer.Option("--role", metavar="ROLE", help="What the person may do; may be given again."),
]


def add(ctx: typer.Context, name: Name, *, role: Roles, home: Home = None) -> int:
    """Enrol a person with a sign code; the site code is asked for first, then the sign code.

    Example: lastrow person add "Day supervisor" --role "shift supervisor"
    """
    from schemas.bodies.person import AUTHORITY

    roles = cast("tuple[Role, ...]", tuple(one_of(AUTHORITY, it, "role") for it in role))
    with door_of(ctx).site(home) as site:
        from fieldapp.work.people import enrol

        site_code = asked("site code")
        code = asked_new(f"sign code of {name}")
        enrol(site, name, roles, sign_code=code, site_code=site_code)
    print(f"{name} is enrolled as {' and '.join(roles)}.")
    return 0


def reset_code(ctx: typer.Context, name: Name, *, home: Home = None) -> int:
    """Give a person a new sign code; the site code is asked for first, then the new one.

    Example: lastrow person reset-code "Day supervisor"
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.people import person
        from fieldapp.work.people import reset_code as reset

        who = person(site, name)
        site_code = asked("site code")
        reset(site, who, sign_code=asked_new(f"new sign code of {name}"), site_code=site_code)
    print(f"{who.body.name} has a new sign code on this tablet.")
    return 0


def revoke(ctx: typer.Context, name: Name, *, home: Home = None) -> int:
    """End a person's enrolment, by the site code; what they signed stays signed.

    Example: lastrow person revoke "Night supervisor"
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.people import person
        from fieldapp.work.people import revoke as end

        who = person(site, name)
        end(site, who, site_code=asked("site code"))
    print(f"{who.body.name} is no longer enrolled.")
    return 0


def people(ctx: typer.Context, *, home: Home = None) -> int:
    """List the people enrolled here and what each may do.

    Example: lastrow person list
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.work.people import people as enrolled

        for who in enrolled(site):
            print(f"{who.body.name}: {', '.join(who.body.roles)}")
    return 0
