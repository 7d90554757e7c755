"""The demo mine for tests: made once a run, copied for whoever needs one."""

import atexit
import os
import shutil
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from tempfile import mkdtemp

from fieldapp.cli.demo_home import clear_demo, mark_made
from fieldapp.start import open_site
from fieldapp.work.board import board
from fieldapp.work.demo import DEMO_PEOPLE, SITE_CODE, make_demo
from fieldapp.work.people import person
from fieldapp.work.site import Session, Site
from tests.run.place import MADE_ONCE

PRESENT = datetime(2031, 5, 6, 9, 30, tzinfo=UTC)
"""When the demo's story has just been told: a morning of the day shift."""

CODES = {who.name: who.sign_code for who in DEMO_PEOPLE} | {"site": SITE_CODE}


class SetClock:
    """A clock that stands until it is told otherwise."""

    def __init__(self, at: datetime = PRESENT) -> None:
        self.at = at

    def __call__(self) -> datetime:
        return self.at

    def go_on(self, **by: float) -> None:
        """Let so much time pass."""
        self.at += timedelta(**by)


def demo_home(folder: Path) -> Path:
    """Put a demo mine into a folder that isn't there yet, as `lastrow demo` leaves it.

    Its board was looked at: what its headings come to is remembered.
    """
    shutil.copytree(_made_once(), folder)
    return folder


def open_demo(folder: Path, clock: SetClock) -> Site:
    """Put a demo mine into a folder and open it; close its store afterwards."""
    return open_site(demo_home(folder), now=clock)


def session(site: Site, name: str) -> Session:
    """Give somebody of the mine as signed in."""
    who = person(site, name)
    return Session(person_id=who.id, name=who.body.name, roles=who.body.roles)


@cache
def _made_once() -> Path:
    shared = os.environ.get(MADE_ONCE)
    if shared:
        return _shared(Path(shared))
    above = Path(mkdtemp(prefix="lastrow-demo-"))
    atexit.register(shutil.rmtree, above, ignore_errors=True)
    return _made(above / "home")


def _shared(home: Path) -> Path:
    """Make it for all processes of the run, unless another one was first."""
    if not home.exists():
        made = _made(Path(mkdtemp(prefix="demo-", dir=home.parent)) / "home")
        with suppress(OSError):  # another was first: a folder that holds something stays
            made.rename(home)
    return home


def _made(home: Path) -> Path:
    clear_demo(home)
    site = open_site(home, now=SetClock())
    with site.store:
        board(make_demo(site), PRESENT)
    mark_made(home)
    return home
