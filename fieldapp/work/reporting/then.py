"""Records as they were known at a time, to report from and to check a report by."""

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

from fieldapp.store.archive import SqlArchive
from fieldapp.store.office import Office
from fieldapp.store.office.troubles import NothingCollated
from fieldapp.store.pairing import NotPaired
from fieldapp.work.known import current
from fieldapp.work.revoked import is_revoked
from fieldapp.work.site import Mine, Records, Sight, Site, Timed
from fieldapp.work.whole import not_whole
from schemas.entry import Entry
from schemas.logical_clock import LogicalTime
from schemas.settings import Settings
from schemas.standard import Standard
from sync.ledger import Kept, Ledger, LedgerState, Named
from sync.names import ROOT, PhotoName

PictureOf = Callable[[PhotoName], Path | None]
"""Gives where a photo's file lies; None where it has not arrived."""
REVOKED = "The office has revoked this tablet: others do not go by what was accepted on it."


@dataclass(frozen=True, eq=False)
class LedgerThen(Ledger):
    """A ledger without what was made after a time: only looked at.

    What says that it was made later than now, by a clock that runs ahead, was known then too.
    """

    whole: Ledger
    at: datetime
    now: datetime

    def _was_known(self, entry: Entry) -> bool:
        return not self.at < entry.made_at <= self.now

    def _known(self, entries: Iterable[Entry]) -> tuple[Entry, ...]:
        return tuple(filter(self._was_known, entries))

    def add(self, entries: Iterable[Entry]) -> None:
        """Refuse: a report states nothing."""
        raise ValueError(f"{len(tuple(entries))} entries for records that are only read")

    def all(self) -> Iterable[Entry]:
        """Give every entry of then, oldest first."""
        return self._known(self.whole.all())

    def after(self, sequence: int) -> Iterable[Kept]:
        """Give what was taken in after a place, of what was made by then."""
        return (it for it in self.whole.after(sequence) if self._was_known(it.entry))

    def state(self) -> LedgerState:
        """Give the state of the whole."""
        return self.whole.state()

    def of_kind(self, kind: str) -> Iterable[Entry]:
        """Give the entries of one kind that were made by then."""
        return self._known(self.whole.of_kind(kind))

    def of_thing(self, thing_id: str) -> tuple[Entry, ...]:
        """Give the revisions of one thing that were made by then."""
        return self._known(self.whole.of_thing(thing_id))

    def naming(self, kind: str, named: Named, name: str | None) -> Iterable[Entry]:
        """Give the revisions that name this and were made by then."""
        return self._known(self.whole.naming(kind, named, name))

    def filed(self, kinds: Collection[str]) -> Mapping[str | None, str]:
        """Give how the whole is filed."""
        return self.whole.filed(kinds)

    def heads(self, kind: str) -> tuple[Entry, ...]:
        """Give the revisions of a kind that were current then."""
        known = tuple(self.of_kind(kind))
        named = {parent for it in known for parent in it.parents}
        return tuple(it for it in known if it.revision not in named)

    def get(self, revision: str) -> Entry | None:
        """Give one entry, if it was made by then."""
        entry = self.whole.get(revision)
        return entry if entry is not None and self._was_known(entry) else None

    def latest_clock(self, wall_ms: int) -> LogicalTime | None:
        """Give the latest logical time of the whole."""
        return self.whole.latest_clock(wall_ms)

    def stated_by_site(self) -> frozenset[str] | None:
        """Give what stands in the site's records of trust by now: who is believed is no fact."""
        return self.whole.stated_by_site()

    def newest_made_at(self) -> datetime | None:
        """Give the latest time at which an entry of then says it was made."""
        newest = self.whole.newest_made_at()
        is_later = newest is not None and self.at < newest <= self.now
        return self.at if is_later else newest


@dataclass(frozen=True)
class RecordsThen:
    """What is kept, or what of it was known at a time."""

    ledger: Ledger


@dataclass(frozen=True)
class Reported:
    """What a report is gathered from, and the time for which it is asked."""

    sight: Timed
    at: datetime
    """In whole seconds."""
    picture_of: PictureOf
    lacking: tuple[str, ...] = ()
    """What has to be known about these records before anybody goes by them."""

    def as_at(self, at: datetime) -> "Reported":
        """Give the same as it was known at an earlier time."""
        return _known_at(self, at)


def of_tablet(site: Site) -> Reported:
    """Give what a tablet reports from, as it is now."""
    told = [" ".join(trouble.sentences()) for trouble in not_whole(site)]
    lacking = (*told, *((REVOKED,) if is_revoked(site) else ()))
    at = _next_second(site.now())
    sight = _timed(site, RecordsThen(site.store.ledger), at)
    return Reported(sight, at, lambda it: _if_there(site.store.photos.path(it)), lacking)


def of_office(office: Office, settings: Settings, now: datetime, share: Path | None) -> Reported:
    """Give what an office's database reports from; photos lie in the share, where it is here."""
    mine = Mine(name="", demo=False, site_key=_site_key(office), tablet="")
    sight = Sight(mine, office, settings)
    stated = current(sight, "standard", Standard)
    if stated:
        newest = stated[-1].body
        named = mine.model_copy(update={"name": newest.mine, "demo": newest.demo})
        sight = Sight(named, office, settings)
    at = _next_second(now)
    return Reported(_timed(sight, office, at), at, lambda it: _in_share(share, it))


def _known_at(on: Reported, at: datetime) -> Reported:
    """Leave out what was made after a time, but by now."""
    whole, now = on.sight.store.ledger, on.at
    asked = min(at, now)
    then = RecordsThen(LedgerThen(whole, asked, now))
    return replace(on, sight=_timed(on.sight, then, asked), at=asked)


def _timed(sight: Sight, records: Records, at: datetime) -> Timed:
    """Give records as they are asked at a time, whatever the clock says."""
    return Timed(sight.mine, records, sight.settings, lambda: at)


def _next_second(at: datetime) -> datetime:
    """Give the end of the second: what was stated within it is known then."""
    whole = at.astimezone(UTC).replace(microsecond=0)
    return whole if at == whole else whole + timedelta(seconds=1)


def _site_key(office: Office) -> str:
    try:
        return SqlArchive(office.database, office.trust).trust().root_keys[0]
    except NotPaired as unpaired:
        raise NothingCollated(office.database.place) from unpaired


def _in_share(share: Path | None, name: PhotoName) -> Path | None:
    return None if share is None else _if_there(share / ROOT / name.path)


def _if_there(path: Path) -> Path | None:
    return path if path.exists() else None
