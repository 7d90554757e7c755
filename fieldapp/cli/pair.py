"""`lastrow pair …`: a new tablet asks to belong to a site, and takes the office's answer."""

from pathlib import Path
from typing import Annotated

import typer

from fieldapp.cli.door import Home, door_of
from fieldapp.cli.pairing_papers import write_paper
from fieldapp.cli.sign_codes import asked_openly


def ask(
    ctx: typer.Context,
    file: Annotated[Path, typer.Argument(metavar="FILE", help="Written: .png or .json.")],
    *,
    home: Home = None,
) -> int:
    """Write this tablet's request for the office: a square code (.png) or a file (.json).

    Example: lastrow pair ask request.png
    """
    door = door_of(ctx)
    with door.new_site(door.home_folder(home)) as site:
        from fieldapp.work.enrol.joining import request
        from schemas.check_number import check_number, in_groups

        asked = request(site)
        written = write_paper(asked, file)
    print(f"Tablet {asked.tablet} asks in {written}.")
    print(f"Its check number, for the office: {in_groups(check_number(asked.public_key))}")
    print('Next, in the office: lastrow enrol tablet FILE --name "…" --answer answer.png')
    return 0


def take(
    ctx: typer.Context,
    file: Annotated[Path, typer.Argument(metavar="FILE", help="The office's answer.")],
    *,
    check: Annotated[
        str | None, typer.Option(metavar="NUMBER", help="Check number of the site.")
    ] = None,
    home: Home = None,
) -> int:
    """Take the office's answer, once the check number that is asked for is the office's.

    Example: lastrow pair take answer.png
    """
    from fieldapp.work.enrol.pairing_papers import answer_at

    door = door_of(ctx)
    answer = answer_at(file)
    with door.new_site(door.home_folder(home)) as site:
        from fieldapp.work.enrol.joining import join, refuse_unfit

        refuse_unfit(site, answer)
        joined = join(site, answer, check=check or asked_openly("check number of the site"))
    print(f"This tablet belongs to {joined.mine.name}.")
    print("Next: lastrow share FOLDER")
    return 0
