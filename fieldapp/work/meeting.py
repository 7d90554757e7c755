"""Going to the shared folder: what an exchange, or the site's own word, needs for it."""

from dataclasses import dataclass
from importlib.metadata import version

from fieldapp.work.site import Site
from schemas.trouble import NotAllowed
from sync.meeting import Meeting
from sync.outcome import Watcher, nobody
from sync.places import open_folder


@dataclass(eq=False)
class NoShareNamed(NotAllowed):
    """Nobody said yet where the shared folder is."""

    happened = "Nobody said on this machine where the shared folder is."
    kept = "Everything is kept here and waits."
    do_next = "Name it once: lastrow share FOLDER, or choose it on the Share folder screen."


def meeting(site: Site, place: str, *, watch: Watcher = nobody) -> Meeting:
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
        open_folder(place, password=site.password),
        site.store.holdings,
        now_s=lambda: site.now().timestamp(),
        watch=watch,
        program=version("lastrow"),
        shelf=site.store.photos,
    )
