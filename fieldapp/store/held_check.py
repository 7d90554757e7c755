"""Looks whether what others sealed is still what it was, and counts exactly as it should."""

from collections.abc import Iterator

from sqlalchemy import Connection, func, select

from fieldapp.store.belief import Believing, certificate
from fieldapp.store.tables import EntryRow, FormerTabletRow, ShareSegmentRow
from fieldapp.store.troubles import DatabaseDamaged
from schemas.canonical import revision_of
from sync.names import SegmentName
from sync.segment import Segment, open_segment

_GIVEN_UP_TO = select(func.coalesce(func.max(FormerTabletRow.sealed_up_to), 0))


class HeldCheck:
    """One look at everything that is held of others, in one transaction that reads."""

    def __init__(self, connection: Connection, place: str) -> None:
        self._connection = connection
        self._place = place
        self._held: set[str] = set()
        self._believed: set[str] = set()

    def check(self, believing: Believing) -> int:
        """Check every segment, and which entries count; give how many segments there are.

        Raises
        ------
        BrokenSegment
            A segment is not what its tablet sealed.
        DatabaseDamaged
            An entry of it is missing, or counts though nobody vouches for it, or doesn't.
        """
        held = 0
        for name, counts, segment in self._segments():
            believed = believing.counts(name)
            if believed != counts:
                raise self._damaged(f"whether segment {name.path} counts is not what it was")
            revisions = set(map(revision_of, segment.lines))
            self._held |= revisions
            self._believed |= revisions if believed else set()
            held += 1
        self._check_entries(believing.stated)
        return held

    def _segments(self) -> Iterator[tuple[SegmentName, bool, Segment]]:
        row, after = ShareSegmentRow, 0
        query = select(row.number, row.tablet, row.seq, row.hash16, row.counts, row.content)
        query = query.order_by(row.number).limit(1)
        while found := self._connection.execute(query.where(row.number > after)).one_or_none():
            after, tablet, seq, hash16, counts, content = found
            name = SegmentName(tablet, seq, hash16)
            identity = certificate(self._connection, tablet)
            if identity is None:
                raise self._damaged(f"the certificate of tablet {tablet} is gone")
            yield name, counts, open_segment(name.file, content, public_key=identity.public_key)

    def _check_entries(self, stated: frozenset[str]) -> None:
        row = EntryRow
        query = select(row.sequence, row.revision, row.origin, row.counts)
        given_up = self._connection.execute(_GIVEN_UP_TO).scalar_one()
        vouched, doubted = self._believed | stated, self._held - self._believed - stated
        missing = self._held | stated
        for sequence, revision, origin, counts in self._connection.execute(query):
            missing.discard(revision)
            if origin is None and sequence <= given_up and revision not in self._held:
                raise self._damaged(f"the segment that entry {sequence} was sealed in is gone")
            should = origin is None or revision in vouched
            if counts != should and (counts is False or revision in doubted):
                raise self._damaged(f"whether entry {revision[:12]} counts is not what it was")
        if missing:
            raise self._damaged(f"{len(missing)} entries of others are gone")

    def _damaged(self, reason: str) -> DatabaseDamaged:
        return DatabaseDamaged(self._place, reason)
