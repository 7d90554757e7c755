"""`lastrow share`: one exchange with the shared folder, or one whenever it is there."""

import time
from typing import TYPE_CHECKING, Annotated, Final

import typer

from fieldapp.cli.door import Home, door_of
from fieldapp.cli.progress import show_progress
from fieldapp.cli.stated import kept_settings

if TYPE_CHECKING:
    from fieldapp.work.site import Site
    from sync.outcome import Outcome

WATCHED_EVERY_S: Final = 20.0


def share(
    ctx: typer.Context,
    folder: Annotated[
        str | None,
        typer.Argument(metavar="FOLDER", help="The shared folder; the last one if left out."),
    ] = None,
    *,
    watch: Annotated[
        bool, typer.Option("--watch", help="Go on, whenever the folder is there.")
    ] = False,
    deep: Annotated[
        bool, typer.Option("--deep", help="Look through the whole folder besides.")
    ] = False,
    home: Home = None,
) -> int:
    """Exchange with the shared folder; stopped with Ctrl-C it goes on there the next time.

    Example: lastrow share /mnt/survey/support
    """
    with door_of(ctx).site(home) as site:
        if folder is not None:
            site = _at(site, folder)
        if not watch:
            _told(site, _exchanged(site, deep=deep))
            return 0
        _watch(site)
    return 0


def _at(site: "Site", folder: str) -> "Site":
    """Keep where the shared folder is, once it was seen to be this site's."""
    from fieldapp.work.share.exchange import named_share

    at = site.with_settings(named_share(site, folder))
    if at.settings != site.settings:
        kept_settings(at)
    return at


def _exchanged(site: "Site", *, deep: bool = False) -> "Outcome":
    from fieldapp.work.share.exchange import share as exchange

    return exchange(site, site.settings.share, watch=show_progress, deep=deep)


def _watch(site: "Site") -> None:
    """Exchange again and again; say only what is new, and once that the folder is not there."""
    from fieldapp.report.words.trust import standing_lines
    from schemas.trouble import Trouble

    told, standing = "", [""]
    while True:
        try:
            outcome = _exchanged(site)
        except Trouble as trouble:
            news = "\n".join(trouble.sentences())
        else:
            before, standing = standing, list(standing_lines(site))
            quiet = told and _is_quiet(outcome) and standing == before
            news = "" if quiet else "\n".join((*_lines(site, outcome), *_backed_up(site)))
        if news and news != told:
            print(f"{site.now():%Y-%m-%d %H:%M:%S} UTC\n{news}", flush=True)
        told = news or told
        time.sleep(WATCHED_EVERY_S)


def _is_quiet(outcome: "Outcome") -> bool:
    moved = outcome.sent or outcome.received or outcome.trust_received or outcome.repaired
    return not (moved or outcome.refused)


def _told(site: "Site", outcome: "Outcome") -> None:
    print(*_lines(site, outcome), *_backed_up(site), sep="\n")


def _lines(site: "Site", outcome: "Outcome") -> list[str]:
    from fieldapp.report.words.clock import clock_lines
    from fieldapp.report.words.exchange import delivered_line, exchange_lines
    from fieldapp.report.words.reported import reported_lines
    from fieldapp.report.words.trust import standing_lines
    from fieldapp.work.share.delivered import delivered, tablet_names

    return [
        *standing_lines(site),
        *exchange_lines(outcome, tablet_names(site)),
        *reported_lines(site),
        *clock_lines(site),
        delivered_line(delivered(site)),
    ]


def _backed_up(site: "Site") -> tuple[str, ...]:
    """Keep a backup of what came in; say what stood in the way of that."""
    from fieldapp.work.backup import keep_backup, troubles

    return troubles(keep_backup(site))
