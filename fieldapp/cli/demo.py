"""`lastrow demo`: the invented Wrenfall mine, on a screen or on paper."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from fieldapp.cli.door import Door, Home, Portrait, door_of

if TYPE_CHECKING:
    from fieldapp.work.site import Site

PAGES = "pages"
"""Folder of the demo's home that everything is written to where none is named."""


def demo(
    ctx: typer.Context,
    *,
    folder: Annotated[
        Path | None,
        typer.Option("--folder", metavar="DIR", help="Write everything into it; open no window."),
    ] = None,
    fresh: Annotated[
        bool, typer.Option("--fresh", help="Start the demo mine over, as it was the first time.")
    ] = False,
    past: Annotated[
        bool, typer.Option(help="Tell a year and a half of its past, or its last days alone.")
    ] = True,
    portrait: Portrait = False,
    home: Home = None,
) -> int:
    """Try the invented Wrenfall mine: in the app, or written into a folder.

    Example: lastrow demo --folder wrenfall
    """
    from fieldapp.start import has_screen

    door = door_of(ctx)
    place = door.home_folder(home, demo=True)
    _made_ready(door, place, fresh=fresh, past=past)
    if folder is None and door.open_app is not None and has_screen():
        return door.open_app(place, portrait=portrait or door.portrait)
    with door.new_site(place) as site:
        _write(site, folder or place / PAGES)
    return 0


def _made_ready(door: Door, place: Path, *, fresh: bool, past: bool) -> None:
    """Make the demo mine the first time, and where it was never finished."""
    from fieldapp.cli.demo_home import clear_demo, is_made, mark_made

    if fresh or not is_made(place):
        clear_demo(place)
    if not is_made(place):
        from fieldapp.work.demo import make_demo, record_damages

        print("Making the Wrenfall mine …")
        with door.new_site(place) as site:
            record_damages(make_demo(site, past=_show_how_far if past else None))
        mark_made(place)


def _show_how_far(share: float) -> None:
    """Say how much of the mine's past is told."""
    from fieldapp.cli.progress import show_line

    show_line(f"A year and a half of its past: {share:.0%}" if share < 1 else "")


def _write(site: "Site", folder: Path) -> None:
    from fieldapp.cli.demo_pages import write_pages
    from fieldapp.report.words.findings import with_role
    from fieldapp.work.demo import DEMO_PEOPLE, SITE_CODE

    write_pages(site, folder)
    print("Sign codes of the demo mine:")
    for who in DEMO_PEOPLE:
        print(f"  {who.sign_code}  {with_role(who.name, who.role)}")
    print(f"  {SITE_CODE}  the site, for the records keeper")
    print(f"\nEverything is in {folder.resolve()}, its records in {site.folder.resolve()}.")
