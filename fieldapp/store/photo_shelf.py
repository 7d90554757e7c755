"""The shelf of photos: files beside the database, named for their bytes, and rows about them.

A file is on the disk before the row that names it; a row is believed only as far as the file's
bytes hash to its name.
"""

from collections.abc import Callable, Iterable, Mapping
from datetime import datetime
from pathlib import Path

from pydantic import ValidationError
from sqlalchemy import Connection, delete, or_, select, update
from sqlalchemy.dialects.sqlite import insert

from fieldapp.store import receipts
from fieldapp.store.engine import Database
from fieldapp.store.home import PHOTOS
from fieldapp.store.keys import Keys
from fieldapp.store.ledger import SqlLedger, write_entries
from fieldapp.store.tables import HERE, PhotoRow, PhotoWordRow, ShareSegmentRow
from schemas.bodies.photo import ENDINGS, Photo
from sync.durable import disk_trouble, write_once
from sync.names import PhotoName
from sync.photo_shelf import PhotoShelf, is_of
from sync.segment import tablet_id


class FilePhotoShelf(PhotoShelf):
    """Photos in a folder beside the database.

    Parameters
    ----------
    folder : Path
        The tablet's home.
    database : Database
        Where it is kept which photos there are.
    ledger : SqlLedger
        The entries that name photos.
    keys : Keys
        Holds the tablet's own key, in whose name receipts are written.
    now : callable
        Asks the clock, for receipts.
    random_bytes : callable
        Gives so many bytes from the system's source of randomness.
    """

    def __init__(
        self,
        folder: Path,
        database: Database,
        ledger: SqlLedger,
        keys: Keys,
        *,
        now: Callable[[], datetime],
        random_bytes: Callable[[int], bytes],
    ) -> None:
        self._folder = folder / PHOTOS
        self._database = database
        self._ledger = ledger
        self._keys = keys
        self._now = now
        self._random_bytes = random_bytes

    def path(self, name: PhotoName) -> Path:
        """Give where a photo's file lies, if it is here."""
        return self._folder / name.sha256[:2] / f"{name.sha256}.{name.ending}"

    def files(self) -> Iterable[Path]:
        """Give the files of all photos whose bytes are here."""
        return (file for file in map(self.path, sorted(self.held())) if file.exists())

    def take_stock(self) -> None:
        """Put down which photos lie here, after the database was brought back from a backup.

        Those that were taken after it are found by the entries that name them, and are sent
        as if nobody held them. Those that others hold are had from the share again. What was
        never sent and is gone stays as it is: it has to be told.
        """
        held = self.held()
        found = [it for it in self.named() if it not in held and self.content(it) is not None]
        gone = [it.sha256 for it in held if self.content(it) is None]
        others_hold = or_(PhotoRow.brought, PhotoRow.published_s.is_not(None))
        with self._database.writing() as connection:
            for sha256 in gone:
                connection.execute(delete(PhotoRow).where(PhotoRow.sha256 == sha256, others_hold))
            for name in found:
                _put(connection, name, brought=False)

    def keep(self, name: PhotoName, content: bytes) -> None:
        """Keep a photo that was taken here.

        Raises
        ------
        DiskTrouble
            The disk is full, read-only or gone; no file of that name was left.
        """
        self._keep(name, content, brought=False)

    def take_in(self, name: PhotoName, content: bytes) -> None:
        """Keep a photo whose bytes fit its name, brought from a share."""
        self._keep(name, content, brought=True)

    def named(self) -> Iterable[PhotoName]:
        """Give every photo that an entry names which counts here."""
        for entry in self._ledger.of_kind("photo"):
            try:
                body = Photo.model_validate(dict(entry.body))
            except ValidationError:  # a newer version's: it names nothing that is known here
                continue
            yield PhotoName(body.month, body.sha256, ENDINGS[body.media_type])

    def held(self) -> frozenset[PhotoName]:
        """Give the photos whose bytes are here."""
        query = select(PhotoRow.month, PhotoRow.sha256, PhotoRow.ending)
        with self._database.reading() as connection:
            rows = connection.execute(query).all()
        return frozenset(PhotoName(*row) for row in rows)

    def content(self, name: PhotoName) -> bytes | None:
        """Give a photo's bytes; None where they are gone or are not its own any more."""
        try:
            content = self.path(name).read_bytes()
        except FileNotFoundError:
            return None
        except OSError as error:
            raise disk_trouble(error, self.path(name)) from error
        return content if is_of(name, content) else None

    def published(self) -> Mapping[PhotoName, float]:
        """Give when photos were put into the share, or last seen good there."""
        row = PhotoRow
        query = select(row.month, row.sha256, row.ending, row.published_s)
        with self._database.reading() as connection:
            rows = connection.execute(query.where(row.published_s.is_not(None))).all()
        found = ((PhotoName(it.month, it.sha256, it.ending), it.published_s) for it in rows)
        return {name: at_s for name, at_s in found if at_s is not None}

    def set_published(self, names: Iterable[PhotoName], at_s: float | None) -> None:
        """Keep that photos were put, or with None that they have to be put again."""
        with self._database.writing() as connection:
            for name in names:
                its = PhotoRow.sha256 == name.sha256
                connection.execute(update(PhotoRow).where(its).values(published_s=at_s))

    def brought(self) -> frozenset[PhotoName]:
        """Give the photos that others took and that were brought here."""
        row = PhotoRow
        query = select(row.month, row.sha256, row.ending).where(row.brought)
        with self._database.reading() as connection:
            return frozenset(PhotoName(*it) for it in connection.execute(query))

    def acknowledged(self) -> frozenset[str]:
        """Give the hashes of the photos that somebody believed says to hold."""
        word, held = PhotoWordRow, ShareSegmentRow
        query = (
            select(word.sha256)
            .outerjoin(held, held.number == word.said_in)
            .where(or_(word.said_in == HERE, held.counts))
        )
        with self._database.reading() as connection:
            return frozenset(connection.execute(query).scalars())

    def acknowledge(self, names: Iterable[PhotoName]) -> None:
        """State, as an entry of this machine, that it holds photos of others."""
        with self._database.writing() as connection:
            tablet = tablet_id(self._keys.tablet_within(connection).public_key)
            entries = receipts.photo_receipts(
                connection,
                [name.sha256 for name in names],
                tablet=tablet,
                now=self._now(),
                random_bytes=self._random_bytes,
            )
            write_entries(connection, entries)
            receipts.put_words(connection, tablet, entries, HERE)

    def _keep(self, name: PhotoName, content: bytes, *, brought: bool) -> None:
        path = self.path(name)
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            if self.content(name) is None:
                path.unlink(missing_ok=True)  # torn: it would stand in its own way
            write_once(path, content)
        except OSError as error:
            raise disk_trouble(error, path) from error
        with self._database.writing() as connection:
            _put(connection, name, brought=brought)


def _put(connection: Connection, name: PhotoName, *, brought: bool) -> None:
    row = {"sha256": name.sha256, "month": name.month, "ending": name.ending}
    new = insert(PhotoRow).values(**row, brought=brought, published_s=None)
    connection.execute(new.on_conflict_do_nothing())
