"""Filling an office's database from the share, whose site is known by its root key.

The first time the key is what the share says it is, and a person compares its check number;
from then on the database knows it, and a share of another mine is refused.
"""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import datetime
from itertools import islice

from fieldapp.store.archive import SqlArchive
from fieldapp.store.office import Office
from fieldapp.store.pairing import NotPaired
from fieldapp.work.hands import Hands, hands
from fieldapp.work.office_lines import WorkedOut, work_out
from fieldapp.work.site import Mine, Sight
from schemas.check_number import check_number, in_groups
from schemas.settings import Settings
from schemas.trouble import BadInput
from sync.collate import RootKeyDiffers, collate, refuse_another
from sync.folder import Folder, ShareGone
from sync.opening import Opened, Sealed, brought_back, opened_elsewhere
from sync.outcome import Outcome, Watcher, nobody
from sync.places import Password, open_folder
from sync.share_identity import NoShareHere, ShareIdentity, read_share_identity
from sync.trust import Trust
from sync.visit import Visit

_KEY = re.compile(r"[0-9a-f]{64}")
FEW = 20
"""So many segments are opened before it is worth while to start other processes."""


@dataclass(eq=False)
class NotAKey(BadInput):
    """What was given is no public key."""

    text: str
    happened = "{text} is no root key."
    kept = "Nothing was taken from the share."
    do_next = "Give the 64 hexadecimal digits of the key, or leave it out and compare its number."


@dataclass(eq=False)
class NothingToCollate(BadInput):
    """There is no share, or it can't be reached."""

    reason: str
    happened = "Nothing can be collated. {reason}."
    kept = "Nothing was written into the share or into a database."
    do_next = "Look whether the folder is there and the right one, then collate again."


@dataclass(frozen=True)
class Keys:
    """What is known of the site's root key apart from the share and the database."""

    said: str | None = None
    """By the person who collates: it has to be that one."""
    own: str | None = None
    """Of the mine that was started on this machine: a new database is that mine's."""

    def __post_init__(self) -> None:
        if self.said is not None and not _KEY.fullmatch(self.said):
            raise NotAKey(self.said)


@dataclass(frozen=True)
class Collated:
    """What a collation came to."""

    identity: ShareIdentity
    outcome: Outcome
    trust: Trust
    """Who is believed by then."""
    unproved: bool
    """Whether the site's keys were taken from the share alone: a person compares them."""

    @property
    def names(self) -> dict[str, str]:
        """The tablets' names by id."""
        return {it.tablet: it.name for it in self.trust.tablets.values()}

    @property
    def check_numbers(self) -> tuple[str, ...]:
        """The check numbers of the site's root keys, as they are read aloud."""
        return _numbers(self.identity.root_keys)


def share_to_collate(place: str, password: Password) -> Folder:
    """Open a share, and see that there is one before a database is made for it.

    Raises
    ------
    NothingToCollate
        There is no share there, or it can't be reached.
    """
    try:
        folder = open_folder(place, password=password)
        read_share_identity(folder)
    except (NoShareHere, ShareGone) as trouble:
        raise NothingToCollate(trouble.sentences()[0].removesuffix(".")) from trouble
    return folder


def collate_share(
    office: Office, folder: Folder, keys: Keys, *, watch: Watcher = nobody
) -> Collated:
    """Take everything of a share into an office's database that it does not hold.

    Parameters
    ----------
    office : Office
        The database.
    folder : Folder
        The shared folder.
    keys : Keys
        What is known of the site's root key.
    watch : Watcher
        Told of each step; may stop it.

    Raises
    ------
    NoShareHere
        There is no share there.
    AnotherMine, RootKeyDiffers
        It is not the site's; nothing was taken from it.
    ShareGone
        It ended half-way: what was done is done, the rest waits.
    """
    identity = read_share_identity(folder)
    with office.taking_in() as archive, hands() as several:
        known = _is_known(archive, identity, folder.place)
        expected = keys.said or (None if known else keys.own)
        _refuse_another_key(identity, expected, folder.place)
        if not known:
            archive.pair(identity.store, identity.root_keys)
        visit = Visit(folder, archive, watch=watch, opener=_Opener(several).opened)
        outcome = collate(visit)
        trust = archive.trust()
    return Collated(identity, outcome, trust, unproved=not known and expected is None)


@dataclass(frozen=True)
class AsAt:
    """The time for which it is asked where people may go, and how this machine says it."""

    at: datetime
    settings: Settings = field(default_factory=Settings)


def work_out_reports(
    office: Office, identity: ShareIdentity, as_at: AsAt, *, watch: Watcher = nobody
) -> WorkedOut:
    """Bring what reports ask for up to what was collated, as at a time."""
    mine = Mine(name=identity.mine, demo=identity.demo, site_key=identity.root_keys[0], tablet="")
    sight = Sight(mine, office, as_at.settings)
    with hands() as several:
        return work_out(office, sight, as_at.at, several, watch=watch)


def _refuse_another_key(identity: ShareIdentity, expected: str | None, place: str) -> None:
    if expected is not None and not identity.is_signed_by(expected):
        found = ", ".join(_numbers(identity.root_keys))
        raise RootKeyDiffers(place, found, *_numbers([expected]))


def _numbers(keys: Iterable[str]) -> tuple[str, ...]:
    return tuple(in_groups(check_number(it)) for it in keys)


def _is_known(archive: SqlArchive, identity: ShareIdentity, place: str) -> bool:
    """Whether the database belongs to the share's site; a database of another site refuses it."""
    try:
        known = archive.trust()
    except NotPaired:
        return False
    refuse_another(identity, known, place)
    return True


@dataclass(frozen=True)
class _Opener:
    """Opens segments in this process while they are few, then in several."""

    several: Hands

    def opened(self, sealed: Iterable[Sealed]) -> Iterator[Opened]:
        """Give each in its order."""
        waiting = iter(sealed)
        for it in islice(waiting, FEW):
            yield it, it.opened()
        for it, opened in self.several.do(opened_elsewhere, waiting):
            yield brought_back(it, opened)
