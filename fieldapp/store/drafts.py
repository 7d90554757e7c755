"""Drafts: what is being worked on, as the list of touches that made it.

A touch is on the disk when `touch` returns: only then may the screen show it as done. What
the touches mean is the job's affair; here they are bytes.
"""

import zlib
from collections.abc import Sequence
from dataclasses import dataclass

from sqlalchemy import Connection, Integer, LargeBinary, delete, func, select, update
from sqlalchemy import bindparam as given
from sqlalchemy.dialects.sqlite import insert

from fieldapp.store.engine import Database
from fieldapp.store.ledger import revisions_here, write_entries
from fieldapp.store.tables import DraftRow, TouchRow
from fieldapp.store.troubles import DatabaseDamaged
from schemas.entry import Entry
from schemas.trouble import NotAllowed


@dataclass(eq=False)
class DraftClosed(NotAllowed):
    """A draft was finished before."""

    draft_id: str
    happened = "The draft {draft_id} was finished before."
    kept = "What it became is kept; nothing was added to it."
    do_next = "Open what it became and correct that."


@dataclass(frozen=True)
class Draft:
    """A draft that is open: its id, and the bytes that say what it is about."""

    draft_id: str
    about: bytes


class Drafts:
    """The drafts of this tablet.

    After a `DiskTrouble` read `touches` again: whether the step that failed is on the disk is
    not known before.
    """

    def __init__(self, database: Database) -> None:
        self._database = database

    def begin(self, draft_id: str, about: bytes) -> None:
        """Open a draft, durably; begun again with the same bytes it is left alone."""
        row = {
            "draft_id": draft_id,
            "about": about,
            "check_crc": zlib.crc32(about),
            "closed": False,
        }
        with self._database.writing() as connection:
            connection.execute(insert(DraftRow).on_conflict_do_nothing(), row)
            _, kept, _ = _draft(connection, draft_id)
            if kept != about:
                raise ValueError(f"draft {draft_id} is about something else")

    def touch(self, draft_id: str, line: bytes) -> int:
        """Add a touch, durably, and give its number, from 1.

        Raises
        ------
        DraftClosed
            The draft was finished before.
        LookupError
            There is no such draft: a bug of the caller.
        """
        values = {"wanted": draft_id, "line": line, "check_crc": zlib.crc32(line)}
        with self._database.writing() as connection:
            number: int | None = connection.execute(_ADD_TOUCH, values).scalar_one_or_none()
            if number is None:
                raise _why_not(connection, draft_id)
            return number

    def touches(self, draft_id: str) -> tuple[bytes, ...]:
        """Give a draft's touches, oldest first; none once it is finished."""
        query = (
            select(TouchRow.line, TouchRow.check_crc)
            .join(DraftRow, DraftRow.number == TouchRow.draft)
            .where(DraftRow.draft_id == draft_id)
            .order_by(TouchRow.number)
        )
        with self._database.reading() as connection:
            rows = connection.execute(query).all()
        return tuple(self._checked(line, crc, draft_id) for line, crc in rows)

    def open_drafts(self) -> tuple[Draft, ...]:
        """Give the drafts that are not finished, oldest first."""
        query = select(DraftRow.draft_id, DraftRow.about, DraftRow.check_crc)
        query = query.where(DraftRow.closed.is_(False)).order_by(DraftRow.number)
        with self._database.reading() as connection:
            rows = connection.execute(query).all()
        return tuple(
            Draft(draft_id, self._checked(about, crc, draft_id)) for draft_id, about, crc in rows
        )

    def check(self) -> None:
        """Look at the bytes of every open draft.

        Raises
        ------
        DatabaseDamaged
            Names the first draft whose bytes have changed.
        """
        for draft in self.open_drafts():
            self.touches(draft.draft_id)

    def finish(self, draft_id: str, entries: Sequence[Entry]) -> None:
        """Close a draft and add the entries that it became, in one step.

        Finished again with the same entries it is left alone; with none it is discarded.

        Raises
        ------
        DraftClosed
            It was finished before, with other entries.
        LookupError
            There is no such draft: a bug of the caller.
        """
        with self._database.writing() as connection:
            number, _, closed = _draft(connection, draft_id)
            if closed:
                wanted = {entry.revision for entry in entries}
                if revisions_here(connection, wanted) != wanted:
                    raise DraftClosed(draft_id)
                return
            write_entries(connection, entries)
            _close(connection, number)

    def _checked(self, content: bytes, crc: int, draft_id: str) -> bytes:
        if zlib.crc32(content) != crc:
            reason = f"bytes of the draft {draft_id} have changed"
            raise DatabaseDamaged(str(self._database.path), reason)
        return content


_next_number = (
    select(func.coalesce(func.max(TouchRow.number), 0) + 1)
    .where(TouchRow.draft == DraftRow.number)
    .correlate(DraftRow)
    .scalar_subquery()
)
_ADD_TOUCH = (
    insert(TouchRow)
    .from_select(
        ["draft", "number", "line", "check_crc"],
        select(
            DraftRow.number,
            _next_number,
            given("line", type_=LargeBinary),
            given("check_crc", type_=Integer),
        ).where(DraftRow.draft_id == given("wanted"), DraftRow.closed.is_(False)),
    )
    .returning(TouchRow.number)
)
"""One statement for the one step that has to be quick."""


def _draft(connection: Connection, draft_id: str) -> tuple[int, bytes, bool]:
    """Give a draft's number, what it is about, and whether it is closed."""
    query = select(DraftRow.number, DraftRow.about, DraftRow.closed)
    found = connection.execute(query.where(DraftRow.draft_id == draft_id)).one_or_none()
    if found is None:
        raise LookupError(f"no draft {draft_id}")
    number, about, closed = found
    return number, about, closed


def _why_not(connection: Connection, draft_id: str) -> DraftClosed:
    _draft(connection, draft_id)
    return DraftClosed(draft_id)


def _close(connection: Connection, number: int) -> None:
    connection.execute(delete(TouchRow).where(TouchRow.draft == number))
    connection.execute(update(DraftRow).where(DraftRow.number == number).values(closed=True))
