"""`lastrow disputes`: what two tablets state differently, side by side."""

from zoneinfo import ZoneInfo

import typer

from fieldapp.cli.door import Home, door_of
from fieldapp.cli.exits import ACCEPTED, NOT_YET


def disputes(ctx: typer.Context, *, home: Home = None) -> int:
    """List what two tablets state differently; it is settled in the app, on Share folder.

    Example: lastrow disputes
    """
    with door_of(ctx).site(home) as site:
        from fieldapp.report.words.findings import found_words, when
        from fieldapp.work.share.sides import found_apart, side_by_side

        found, zone = side_by_side(site), ZoneInfo(site.settings.zone)
        for it in found:
            print(it.what)
            for name, side in (("left", it.left), ("right", it.right)):
                print(f"  {name}: {side.who}, {side.tablet}, {when(side.at, zone)}")
            for left, right in found_apart(site, it.dispute):
                title = next(one.title for one in (left, right) if one is not None)
                print(f"  {title}: {found_words(left)} | {found_words(right)}")
            for one in it.dispute.differences:
                print(f"  {one.where}: {one.left} | {one.right}")
    if not found:
        print("Nothing is stated differently on two tablets.")
    return NOT_YET if found else ACCEPTED
