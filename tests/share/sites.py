"""An office and tablets with everything that they keep, and a real folder between them."""

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from fieldapp.start import open_site
from fieldapp.store.backup import write_backup
from fieldapp.store.backup_file import Backup
from fieldapp.store.bring_back import bring_back
from fieldapp.store.home import DATABASE
from fieldapp.work.enrol.joining import join, request
from fieldapp.work.enrol.office import enrol_tablet, start_share
from fieldapp.work.mine import start_mine
from fieldapp.work.share.exchange import share
from fieldapp.work.site import Site
from fieldapp.work.writing import state
from schemas.bodies.batch import Batch
from schemas.check_number import check_number
from schemas.entry import Entry
from sync.names import ROOT
from sync.outcome import Outcome
from tests.demo_mine import SetClock

CODE = "4155"
BETWEEN = timedelta(minutes=5)


class Sites:
    """One site's machines, each in a home of its own under `folder`."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.clock = folder, SetClock()
        self.share = folder / "share"
        self.share.mkdir()
        self._open: list[Site] = []
        self._backups = 0
        office = start_mine(self.opened("office"), "Our mine", site_code=CODE)
        self.office = start_share(office, str(self.share), site_code=CODE)

    @property
    def root(self) -> Path:
        """Where everything lies in the share."""
        return self.share / ROOT

    def opened(self, name: str, off: timedelta = timedelta(0)) -> Site:
        """Open the records of a machine whose clock is off by so much."""
        site = open_site(self.folder / name, now=lambda: self.clock() + off)
        self._open.append(site)
        return site

    def tablet(self, name: str, off: timedelta = timedelta(0)) -> Site:
        """Give a new tablet that the office has enrolled, and whose clock is off by so much."""
        site = self.opened(name, off)
        asked = request(site)
        number = check_number(asked.public_key)
        answer = enrol_tablet(self.office, asked, name, check=number, site_code=CODE)
        return join(site, answer, check=check_number(answer.root_key))

    def stranger(self, name: str) -> Site:
        """Give a tablet that knows the share and that nobody has enrolled."""
        site = self.opened(name)
        trust = self.office.store.holdings.trust()
        site.store.holdings.pair(trust.store, trust.root_keys)
        return site

    def met(self, site: Site, *, deep: bool = False) -> Outcome:
        """Let a machine exchange, some minutes later."""
        self.clock.at += BETWEEN
        return share(site, str(self.share), deep=deep)

    def meet_often(self, *sites: Site) -> None:
        """Let all meet until nothing is new, whatever the order."""
        for _ in range(3):
            for site in (*sites, self.office):
                self.met(site)

    def copied(self, site: Site, name: str) -> Site:
        """Give a machine with the image of another's disk."""
        shutil.copytree(site.folder, self.folder / name)
        return replace(self.opened(name), mine=site.mine)

    def backed_up(self, site: Site) -> Backup:
        """Back a machine up into a file of its own."""
        self._backups += 1
        target = self.folder / f"{self._backups}.lastrow"
        photos = tuple(site.store.photos.files())
        return write_backup(site.store.folder / DATABASE, target, self.clock(), photos)

    def brought_back(self, backup: Backup, name: str) -> Site:
        """Bring a machine back from a backup into a new home."""
        bring_back(self.folder / name, backup, self.clock)
        return self.opened(name)

    def at(self, site: Site, when: datetime) -> Site:
        """Give a machine whose clock stands elsewhere."""
        return replace(site, now=lambda: when)

    def close(self) -> None:
        """Let go of every home."""
        for site in self._open:
            site.store.close()


def say(site: Site, label: str, *parents: Entry) -> Entry:
    """State a batch, or revise one: what it is about doesn't matter."""
    body = Batch.model_validate({"label": label, "of": "bolts"})
    thing = parents[0].id if parents else None
    revisions = tuple(it.revision for it in parents)
    return state(site, "batch", body, author=None, thing_id=thing, parents=revisions)


def labels(site: Site) -> set[str]:
    """Give what counts here of what was said."""
    return {str(it.body["label"]) for it in site.store.ledger.of_kind("batch")}


@contextmanager
def sites_in(folder: Path, patch: pytest.MonkeyPatch) -> Iterator[Sites]:
    """Open a site for a test; sign codes are cheap to try in it."""
    patch.setattr("fieldapp.work.own_keys.COST", 2**10)
    sites = Sites(folder)
    try:
        yield sites
    finally:
        sites.close()
