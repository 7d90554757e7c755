"""Starting a mine on this tablet: its site key, the tablet's own key, who it belongs to."""

from dataclasses import dataclass, replace

from fieldapp.store.codes import SITE
from fieldapp.store.home import MINE_FILE as MINE_FILE
from fieldapp.work.own_keys import CODE, WeakCode, keep_key
from fieldapp.work.site import Mine, Site
from fieldapp.work.writing import new_thing_id, state
from schemas.bodies.tablet import Tablet
from schemas.signatures import SEED_BYTES, Certificate, SigningKey
from schemas.trouble import NotAllowed
from sync.durable import write_once

NOT_STARTED = Mine(name="", demo=False, site_key="", tablet="")
"""What a tablet belongs to before a mine is started on it."""


@dataclass(eq=False)
class MineStarted(NotAllowed):
    """A mine was started here before."""

    mine: str

    happened = "{mine} was started on this tablet before."
    kept = "Its records are as they were."
    do_next = "Go on with it, or name another home folder with --home."


def start_mine(site: Site, name: str, *, site_code: str, demo: bool = False) -> Site:
    """Start a mine: make the site's key, keep it under the site code, enrol this tablet.

    Raises
    ------
    MineStarted
        This home holds a mine already.
    WeakCode
        The site code can't be used.
    """
    refuse_second_mine(site)
    if not CODE.fullmatch(site_code):
        raise WeakCode("the site")
    key = SigningKey(site.chance(SEED_BYTES))
    keep_key(site, key, site_code, owner=SITE, demo=demo)
    tablet_id = new_thing_id(site)
    mine = Mine(name=name, demo=demo, site_key=key.public_key, tablet=tablet_id)
    write_once(site.folder / MINE_FILE, mine.model_dump_json(indent=2).encode() + b"\n")
    started = replace(site, mine=mine)
    _enrol_this_tablet(started, key)
    return started


def refuse_another_mine(site: Site, name: str) -> None:
    """Refuse to go on under another name than the one that was started here."""
    if site.mine.name and site.mine.name.casefold() != name.casefold():
        raise MineStarted(site.mine.name)


def refuse_second_mine(site: Site) -> None:
    """Refuse to start a mine where one was started before; asks for no code first."""
    if site.mine.name:
        raise MineStarted(site.mine.name)


def _enrol_this_tablet(site: Site, site_key: SigningKey) -> None:
    own = site.store.keys.tablet()
    certificate = Certificate.issue(
        site_key, holder=site.mine.tablet, public_key=own.public_key, roles=("tablet",)
    )
    body = Tablet(name="this tablet", public_key=own.public_key, certificate=certificate.signature)
    state(site, "tablet", body, author=site.mine.tablet, thing_id=site.mine.tablet)
