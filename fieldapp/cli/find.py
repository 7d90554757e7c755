"""`lastrow find`: what a label is on, from a photo of it or from its short id."""

from pathlib import Path
from typing import Annotated
from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.door import Home, door_of
from fieldapp.cli.table import NO_BREAK


def find(
    ctx: typer.Context,
    label: Annotated[
        str, typer.Argument(metavar="PHOTO|ID", help="A photo of a label, or its short id.")
    ],
    *,
    home: Home = None,
) -> int:
    """Say what a label is on, where that is, how it stands, and how far people may go there.

    Example: lastrow find 7K3Q-9XTR-M
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.report.words.label import date_words, place_words, state_words, title_words
        from fieldapp.work.finding_labels import find_in_photo, find_typed

        photo = Path(label)
        found = find_in_photo(site, photo) if photo.is_file() else find_typed(site, label)
        zone, units = ZoneInfo(site.settings.zone), site.settings.units
        for thing in found:
            where = (place_words(thing, units), date_words(thing, zone))
            said = ", ".join(filter(None, where))
            print(f"{thing.code.readable}  {title_words(thing)}")
            for line in (said, state_words(site, thing, site.now())):
                print(f"  {line}".replace(NO_BREAK, " "))
    print("\nA barricade or sign in the heading outranks this.")
    return 0
