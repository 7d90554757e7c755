"""`lastrow mine …`: starting a real mine on this tablet."""

from typing import Annotated

import typer

from fieldapp.cli.door import Home, door_of
from fieldapp.cli.sign_codes import asked_new


def start(
    ctx: typer.Context,
    name: Annotated[str, typer.Argument(help="Name of the mine, as its standard has it.")],
    *,
    home: Home = None,
) -> int:
    """Start a mine on this tablet, with a site code that the records keeper keeps.

    Example: lastrow mine start "Our mine"
    """
    door = door_of(ctx)
    folder = door.home_folder(home)
    with door.new_site(folder) as site:
        from fieldapp.work.mine import refuse_second_mine, start_mine

        refuse_second_mine(site)
        start_mine(site, name, site_code=asked_new("site code"))
    print(f"{name} is started in {folder}.")
    print('Next: lastrow person add "…" --role "geotechnical engineer"')
    return 0
