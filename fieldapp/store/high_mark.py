"""How far this tablet has ever sealed: a small signed file beside the database.

Rows can be taken out of the database, and the rest of it looks sound. The file says which
segment was the last of each row that this tablet sealed, under each of its keys, and how many
entries were here then; it only ever rises. Whoever puts database and file back together to an
older day isn't told apart here: the shared folder and other tablets know then.
"""

import logging
from collections.abc import Iterator
from typing import Annotated

from pydantic import Field, ValidationError
from sqlalchemy import Connection, select, text

from fieldapp.store.belief import certificate
from fieldapp.store.binding import highest_number
from fieldapp.store.engine import Database
from fieldapp.store.keys import Keys
from fieldapp.store.tables import FormerTabletRow, SegmentRow
from schemas.canonical import Unreadable, parse_json
from schemas.identifiers import SegmentNumber, ShortHash, TabletId
from schemas.signatures import SigningKey
from sync.durable import disk_trouble, replace_file
from sync.names import SegmentName
from sync.segment import tablet_id
from sync.signed_file import SignedFile

FILE = "lastrow.sealed"

_HELD = text("""
    SELECT count(DISTINCT seq) = :seq AND coalesce(max(seq = :seq AND hash16 = :hash16), 0) FROM (
        SELECT seq, hash16 FROM share_segment WHERE tablet = :tablet
        UNION ALL SELECT seq, substr(name, 10, 16) FROM segment WHERE :tablet = :present)
    WHERE seq <= :seq
""")


class HighMark(SignedFile):
    """The last segments that this tablet sealed, and the highest number of an entry then."""

    purpose = "lastrow sealed 1"

    rows: tuple[tuple[TabletId, SegmentNumber, ShortHash], ...] = ()
    newest: Annotated[int, Field(ge=0)] = 0

    def segments(self) -> tuple[SegmentName, ...]:
        """Give the last segment of each row."""
        return tuple(SegmentName(*it) for it in self.rows)


class HighMarks:
    """The file beside one database."""

    def __init__(self, database: Database, keys: Keys) -> None:
        self.path = database.path.with_name(FILE)
        self._database = database
        self._keys = keys

    def read(self, connection: Connection) -> HighMark | None:
        """Give what the file says; None where it is gone, torn, or not this tablet's."""
        try:
            content = self.path.read_bytes()
            mark = HighMark.model_validate(parse_json(content, source=FILE))
        except (OSError, Unreadable, ValidationError):
            return None
        return mark if any(map(mark.is_signed_by, self._own_keys(connection))) else None

    def begin(self) -> None:
        """Write the file for what is here now. Only where nothing was bound before."""
        key = self._keys.tablet()
        with self._database.reading() as connection:
            mark = _raised(connection, HighMark(), key)
        try:
            self._write(mark.signed(key))
        except OSError as error:
            raise disk_trouble(error, self.path) from error

    def rise(self) -> None:
        """Let the file say what was sealed since; one that doesn't fit is left as it is.

        What was sealed is sealed: where there is no room, the mark rises the next time.
        """
        key = self._keys.tablet()
        with self._database.reading() as connection:
            before = self.read(connection)
            if before is None or self.not_held(connection, before):
                return
            mark = _raised(connection, before, key)
        if mark == before:
            return
        try:
            self._write(mark.signed(key))
        except OSError as error:
            logging.getLogger(__name__).warning("%s", disk_trouble(error, self.path))

    def not_held(self, connection: Connection, mark: HighMark) -> tuple[SegmentName, ...]:
        """Give the ends of the rows that are not here from their first segment on."""
        key = self._keys.tablet_seen(connection)
        present = {"present": tablet_id(key.public_key) if key else ""}
        return tuple(
            name
            for name in mark.segments()
            if not connection.execute(_HELD, {**vars(name), **present}).scalar_one()
        )

    def _write(self, mark: HighMark) -> None:
        replace_file(self.path, mark.content())

    def _own_keys(self, connection: Connection) -> Iterator[str]:
        present = self._keys.tablet_seen(connection)
        if present is not None:
            yield present.public_key
        former = connection.execute(select(FormerTabletRow.tablet)).scalars().all()
        known = (certificate(connection, it) for it in former)
        yield from (it.public_key for it in known if it is not None)


def _raised(connection: Connection, before: HighMark, key: SigningKey) -> HighMark:
    query = select(SegmentRow.name).order_by(SegmentRow.seq.desc()).limit(1)
    file = connection.execute(query).scalar_one_or_none()
    last = SegmentName.of_file(tablet_id(key.public_key), file) if file else None
    rows = {it.tablet: it for it in (*before.segments(), *filter(None, [last]))}
    return before.model_copy(
        update={
            "rows": tuple((it.tablet, it.seq, it.hash16) for it in rows.values()),
            "newest": max(before.newest, highest_number(connection)),
        }
    )
