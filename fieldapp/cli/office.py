"""`lastrow office …`: making a site's shared folder on the office machine."""

from typing import Annotated

import typer

from fieldapp.cli.door import Home, door_of
from fieldapp.cli.sign_codes import asked, asked_new
from fieldapp.cli.stated import kept_settings


def start(
    ctx: typer.Context,
    name: Annotated[str, typer.Argument(help="Name of the mine, as its standard has it.")],
    *,
    share: Annotated[
        str, typer.Option("--share", metavar="FOLDER", help="Folder that the tablets share.")
    ],
    home: Home = None,
) -> int:
    """Start a mine on the office machine, by its site code, and make the folder its share.

    Example: lastrow office start "Our mine" --share /mnt/survey/support
    """
    door = door_of(ctx)
    folder = door.home_folder(home)
    with door.new_site(folder) as site:
        from fieldapp.work.enrol.office import start_share
        from fieldapp.work.mine import refuse_another_mine, start_mine
        from fieldapp.work.share.exchange import share as exchange
        from schemas.check_number import check_number, in_groups

        refuse_another_mine(site, name)
        if site.mine.name:
            site_code = asked("site code")
        else:
            site_code = asked_new("site code")
            site = start_mine(site, name, site_code=site_code)
        started = start_share(site, share, site_code=site_code)
        kept_settings(started)
        exchange(started, started.settings.share)
        print(f"{name} shares {started.settings.share}.")
        print(f"Check number of the site: {in_groups(check_number(started.mine.site_key))}")
    print("Next: on a new tablet lastrow pair ask request.png, then here lastrow enrol tablet.")
    return 0
