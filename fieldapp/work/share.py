"""Meeting the shared folder: the exchange as a job of the day."""

from collections.abc import Callable
from dataclasses import dataclass
from importlib.metadata import version

from fieldapp.work.site import Site
from schemas.trouble import NotAllowed
from sync.exchange import exchange
from sync.folder import Folder
from sync.meeting import Meeting
from sync.outcome import Outcome, Watcher, nobody
from sync.places import open_folder

OpenFolder = Callable[[str], Folder]


@dataclass(eq=False)
class NoShareNamed(NotAllowed):
    """Nobody said yet where the shared folder is."""

    happened = "Nobody said on this machine where the shared folder is."
    kept = "Everything is kept here and waits."
    do_next = "Name it once: lastrow share FOLDER, or choose it on the Share folder screen."


def share(
    site: Site,
    place: str,
    *,
    watch: Watcher = nobody,
    deep: bool = False,
    opened: OpenFolder = open_folder,
) -> Outcome:
    """Exchange with a shared folder, and give what went out, came in, waits and was refused.

    Raises
    ------
    NotPaired
        This tablet belongs to no share yet.
    NoShareHere, AnotherShare
        The folder is not this site's; nothing was written.
    ShareGone
        It went away; what was done is done, the rest waits.
    """
    return exchange(meeting(site, place, watch=watch, opened=opened), deep=deep)


def meeting(
    site: Site, place: str, *, watch: Watcher = nobody, opened: OpenFolder = open_folder
) -> Meeting:
    """Give what an exchange with a place needs; refused before the folder is looked at.

    Raises
    ------
    NotPaired
        This tablet belongs to no share yet.
    NoShareNamed
        No place is given.
    """
    site.store.holdings.trust()
    if not place:
        raise NoShareNamed
    return Meeting(
        opened(place),
        site.store.holdings,
        now_s=lambda: site.now().timestamp(),
        watch=watch,
        program=version("lastrow"),
    )
